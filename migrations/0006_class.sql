-- A class, or the quiet way out of a menu that is published without a lesson: then it has no hours.
create table cooking_class (
    class_id       blob    primary key check (length(class_id) = 16),
    school_id      blob    not null,
    menu_id        blob    not null,
    publication_id blob,
    serve_local    text    not null,
    zone           text    not null,
    from_local     text,
    to_local       text,
    kitchen_id     blob,
    seats          integer not null check (seats between 1 and 500),
    fee_minor      integer check (fee_minor >= 0),
    arrangement    text    not null default '{}' check (json_valid(arrangement)),
    purge_on       text    not null,
    made_at        integer not null,
    version        integer not null default 1,
    unique (school_id, class_id),
    check ((from_local is null) = (to_local is null)),
    foreign key (school_id, menu_id) references menu (school_id, menu_id),
    foreign key (school_id, publication_id) references publication (school_id, publication_id),
    foreign key (school_id, kitchen_id) references kitchen (school_id, kitchen_id)
) strict;

create index cooking_class_by_menu on cooking_class (school_id, menu_id);
create index cooking_class_by_purge on cooking_class (school_id, purge_on);

-- A private address of a class. The token itself is kept too, so that it can be printed again on the
-- class menu: it opens nothing but what was published. The keys of homes are kept as hashes alone.
create table class_link (
    class_link_id blob    primary key check (length(class_link_id) = 16),
    school_id     blob    not null,
    class_id      blob    not null,
    token_hash    blob    not null unique check (length(token_hash) = 32),
    token         text    not null,
    note          text    not null check (length(note) <= 80),
    made_at       integer not null,
    expires_at    integer not null,
    revoked_at    integer,
    unique (school_id, class_link_id),
    foreign key (school_id, class_id) references cooking_class (school_id, class_id)
) strict;

create index class_link_by_class on class_link (school_id, class_id);

-- One table that cooks the menu, opened by its own key without an account.
create table home (
    home_id     blob    primary key check (length(home_id) = 16),
    school_id   blob    not null,
    class_id    blob    not null,
    key_hash    blob    not null unique check (length(key_hash) = 32),
    name        text    not null check (length(name) <= 80),
    guests      integer not null check (guests between 1 and 500),
    serve_local text    not null,
    zone        text    not null,
    arrangement text    not null check (json_valid(arrangement)),
    share_name  integer not null default 0 check (share_name in (0, 1)),
    -- The number of the publication whose changes this home has read.
    seen_number integer not null default 0,
    attended_at integer,
    made_at     integer not null,
    version     integer not null default 1,
    unique (school_id, home_id),
    foreign key (school_id, class_id) references cooking_class (school_id, class_id)
) strict;

create index home_by_class on home (school_id, class_id);

-- Health data: told by choice, deleted alone, gone by the class's purge day.
create table home_allergy (
    school_id     blob    not null,
    home_id       blob    not null,
    allergen      text    not null check (length(allergen) between 1 and 80),
    strict        integer not null check (strict in (0, 1)),
    consent_at    integer not null,
    words_version integer not null,
    primary key (school_id, home_id, allergen),
    foreign key (school_id, home_id) references home (school_id, home_id) on delete cascade
) strict, without rowid;
