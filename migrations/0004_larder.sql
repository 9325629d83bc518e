-- A school's own foods, each one document: a key of the shipped larder changes that row for this school.
create table food (
    school_id  blob    not null references school,
    food_key   text    not null check (length(food_key) between 1 and 80),
    food       text    not null check (json_valid(food)),
    changed_at integer not null,
    version    integer not null default 1,
    primary key (school_id, food_key)
) strict, without rowid;
