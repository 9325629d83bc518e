-- A school's own foods, each one document: a key of the shipped larder changes that row for this school.
create table food (
    school_id  blob    not null references school,
    food_key   text    not null check (length(food_key) between 1 and 80),
    food       text    not null check (json_valid(food)),
    changed_at integer not null,
    version    integer not null default 1,
    primary key (school_id, food_key)
) strict, without rowid;

-- What a school's own words mean: a name that stands for a food, or a line that is read as another.
create table meaning (
    school_id  blob    not null references school,
    said       text    not null check (length(said) between 1 and 200),
    is_line    integer not null check (is_line in (0, 1)),
    meant      text    not null check (length(meant) between 1 and 200),
    made_at    integer not null,
    primary key (school_id, said)
) strict, without rowid;
