-- What was ticked, made, measured: one log, only ever added to, so that several devices merge by reading.
create table kitchen_event (
    event_id    blob    primary key check (length(event_id) = 16),
    school_id   blob    not null,
    class_id    blob,
    home_id     blob,
    kind        text    not null check (length(kind) between 1 and 40),
    key         text    not null check (length(key) between 1 and 200),
    value       text    not null default '{}' check (json_valid(value)),
    client_at   integer not null,
    received_at integer not null,
    unique (school_id, event_id),
    check ((class_id is null) <> (home_id is null)),
    foreign key (school_id, class_id) references cooking_class (school_id, class_id),
    foreign key (school_id, home_id) references home (school_id, home_id) on delete cascade
) strict;

create index kitchen_event_by_home on kitchen_event (school_id, home_id, received_at);
create index kitchen_event_by_class on kitchen_event (school_id, class_id, received_at);

create trigger kitchen_event_is_fixed before update on kitchen_event
begin select raise(abort, 'kitchen_event is never changed'); end;

-- Who took which sheet of what was published; a correction is told to these.
create table copy_taken (
    copy_taken_id  blob    primary key check (length(copy_taken_id) = 16),
    school_id      blob    not null,
    publication_id blob    not null,
    home_id        blob,
    kind           text    not null check (length(kind) between 1 and 40),
    taken_at       integer not null,
    unique (school_id, copy_taken_id),
    foreign key (school_id, publication_id) references publication (school_id, publication_id),
    foreign key (school_id, home_id) references home (school_id, home_id) on delete cascade
) strict;

create index copy_taken_by_publication on copy_taken (school_id, publication_id);
create index copy_taken_by_home on copy_taken (school_id, home_id);

create trigger copy_taken_is_fixed before update on copy_taken
begin select raise(abort, 'copy_taken is never changed'); end;
