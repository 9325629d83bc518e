-- The rules a school works by. A change is a new version with all its rows; nothing is rewritten,
-- so that it can be said for ever who loosened or tightened what, when and why.
create table rule_profile (
    rule_profile_id blob    primary key check (length(rule_profile_id) = 16),
    school_id       blob    not null references school,
    base            text    not null check (base in ('home', 'foodcode2022', 'foodcode2017', 'ukadvice')),
    number          integer not null check (number >= 1),
    changed_by      text    not null check (length(changed_by) between 1 and 80),
    reason          text    not null check (length(reason) between 1 and 400),
    from_at         integer not null,
    unique (school_id, rule_profile_id),
    -- Two people changing at once: the second is told, not merged.
    unique (school_id, number)
) strict;

create trigger rule_profile_is_fixed before update on rule_profile
begin select raise(abort, 'rule_profile is never changed'); end;

-- A row of the school: tighter than shipped, or the published figure taken by name and reason.
create table rule_row (
    rule_profile_id blob    not null,
    school_id       blob    not null,
    rule_key        text    not null check (length(rule_key) between 1 and 60),
    -- A count of days, minutes, hours or times; or degrees with their scale.
    most            integer check (most between 1 and 1000),
    degrees         integer check (degrees between -100 and 1000),
    scale           text    check (scale in ('C', 'F')),
    is_published    integer not null check (is_published in (0, 1)),
    changed_by      text    not null check (length(changed_by) between 1 and 80),
    changed_on      text    not null,
    reason          text    not null check (length(reason) between 1 and 400),
    check ((degrees is null) = (scale is null)),
    primary key (rule_profile_id, rule_key),
    unique (school_id, rule_profile_id, rule_key),
    foreign key (school_id, rule_profile_id) references rule_profile (school_id, rule_profile_id)
) strict, without rowid;

create trigger rule_row_is_fixed before update on rule_row
begin select raise(abort, 'rule_row is never changed'); end;
