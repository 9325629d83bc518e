-- Kitchens, menus and what was published of them.
create table kitchen (
    kitchen_id  blob    primary key check (length(kitchen_id) = 16),
    school_id   blob    not null references school,
    name        text    not null check (length(name) between 1 and 80),
    name_folded text    not null,
    kitchen     text    not null check (json_valid(kitchen)),
    version     integer not null default 1,
    unique (school_id, kitchen_id),
    unique (school_id, name_folded)
) strict;

create table menu (
    menu_id    blob    primary key check (length(menu_id) = 16),
    school_id  blob    not null references school,
    name       text    not null check (length(name) between 1 and 80),
    draft      text    not null check (json_valid(draft)),
    changed_at integer not null,
    version    integer not null default 1,
    unique (school_id, menu_id)
) strict;

-- The dishes of a draft; a dish's letter is its place.
create table menu_dish (
    school_id blob    not null,
    menu_id   blob    not null,
    place     integer not null check (place between 0 and 25),
    dish_id   blob    not null,
    primary key (school_id, menu_id, place),
    unique (school_id, menu_id, dish_id),
    foreign key (school_id, menu_id) references menu (school_id, menu_id) on delete cascade,
    foreign key (school_id, dish_id) references dish (school_id, dish_id)
) strict, without rowid;

create index menu_dish_by_dish on menu_dish (school_id, dish_id);

-- A menu as it was fixed: the texts, and what was read from them. Sheets are made of it alone.
create table publication (
    publication_id blob    primary key check (length(publication_id) = 16),
    school_id      blob    not null,
    menu_id        blob    not null,
    number         integer not null check (number >= 1),
    snapshot       text    not null check (json_valid(snapshot)),
    hash           blob    not null check (length(hash) = 32),
    check_word     text    not null,
    published_at   integer not null,
    unique (school_id, publication_id),
    unique (school_id, menu_id, number),
    unique (school_id, check_word),
    foreign key (school_id, menu_id) references menu (school_id, menu_id),
    foreign key (school_id, check_word) references check_word (school_id, word)
) strict;

create trigger publication_is_fixed before update on publication
begin select raise(abort, 'publication is never changed'); end;

-- Which fixed text each letter stands for; bases follow the dishes.
create table publication_dish (
    school_id        blob    not null,
    publication_id   blob    not null,
    place            integer not null check (place >= 0),
    dish_revision_id blob    not null,
    primary key (school_id, publication_id, place),
    foreign key (school_id, publication_id) references publication (school_id, publication_id),
    foreign key (school_id, dish_revision_id) references dish_revision (school_id, dish_revision_id)
) strict, without rowid;

create index publication_dish_by_revision on publication_dish (school_id, dish_revision_id);

create trigger publication_dish_is_fixed before update on publication_dish
begin select raise(abort, 'publication_dish is never changed'); end;
