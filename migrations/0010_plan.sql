-- Plans of homes as they were made; never changed, and found again by what they were made from.
create table plan (
    plan_id     blob    primary key check (length(plan_id) = 16),
    school_id   blob    not null,
    home_id     blob    not null,
    inputs_hash blob    not null check (length(inputs_hash) = 32),
    effort      text    not null check (effort in ('small', 'normal', 'long')),
    status      text    not null check (status in ('planned', 'refused', 'not found')),
    result      text    not null check (json_valid(result)),
    program     text    not null check (length(program) between 1 and 40),
    made_at     integer not null,
    unique (school_id, plan_id),
    unique (school_id, home_id, inputs_hash, effort),
    foreign key (school_id, home_id) references home (school_id, home_id) on delete cascade
) strict;

create index plan_by_home on plan (school_id, home_id, made_at);

create trigger plan_is_fixed before update on plan
begin select raise(abort, 'plan is never changed'); end;
