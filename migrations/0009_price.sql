-- What a pack of a food cost a school on a day. A price is never changed; a newer one stands beside it.
create table price (
    price_id  blob primary key check (length(price_id) = 16),
    school_id blob not null references school,
    currency  text not null check (length(currency) = 3),
    price     text not null check (json_valid(price)),
    unique (school_id, price_id)
) strict;

create index price_of_school on price (school_id, currency);

create trigger price_is_fixed before update on price
begin select raise(abort, 'price is never changed'); end;
