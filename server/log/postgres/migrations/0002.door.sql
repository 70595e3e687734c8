-- Who may come in: devices and their tokens, pairing codes, calendars' addresses, how much was sent, wrong guesses.
-- depends: 0001.log

create table device (
    workshop integer not null references workshop (id) on delete cascade,
    id uuid not null,
    name text not null,
    role text not null,
    token_sha256 text not null unique,
    paired timestamptz not null,
    seen timestamptz not null,
    revoked timestamptz,
    primary key (workshop, id)
);

create table feed (
    workshop integer not null references workshop (id) on delete cascade,
    id uuid not null,
    name text not null,
    token_sha256 text not null unique,
    made timestamptz not null,
    seen timestamptz,
    withdrawn timestamptz,
    primary key (workshop, id)
);

-- At most one open code a workshop, and its wrong tries, which go with it.
create table pairing (
    workshop integer primary key references workshop (id) on delete cascade,
    code_sha256 text not null,
    role text not null,
    ends timestamptz not null
);

create table wrong_code (
    workshop integer not null references pairing (workshop) on delete cascade,
    network text not null,
    tries integer not null,
    primary key (workshop, network)
);

-- Not logged: these are counters of a day and of a minute, and nobody waits for a disk or a standby because of them.
create unlogged table amount (
    workshop integer not null references workshop (id) on delete cascade,
    device uuid not null,
    target text not null,
    day date not null,
    sent bigint not null,
    primary key (workshop, device, target)
);

create unlogged table guess (
    only_row boolean primary key default true check (only_row),
    since timestamptz not null,
    guesses integer not null
);

alter table device enable row level security;
alter table feed enable row level security;
alter table pairing enable row level security;
alter table wrong_code enable row level security;
alter table amount enable row level security;
alter table guess enable row level security;

create policy own on device using (workshop = current_workshop());
create policy own on feed using (workshop = current_workshop());
create policy own on pairing using (workshop = current_workshop());
create policy own on wrong_code using (workshop = current_workshop());
create policy own on amount using (workshop = current_workshop());

-- A secret of 256 bits says which workshop somebody is from: these two look across all of them.
create function device_of_token(sought text) returns setof device
language sql stable security definer set search_path = slipbook, pg_temp
as $$ select * from device where token_sha256 = sought $$;

create function feed_of_secret(sought text) returns setof feed
language sql stable security definer set search_path = slipbook, pg_temp
as $$ select * from feed where token_sha256 = sought and withdrawn is null $$;

-- Counts a wrong guess; returns how many there were within so many seconds, this one too.
create function count_guess(within_s float8) returns integer
language sql security definer set search_path = slipbook, pg_temp
as $$
    insert into guess values (true, clock_timestamp(), 1)
    on conflict (only_row) do update
    set since = case when clock_timestamp() < guess.since + make_interval(secs => within_s)
                     then guess.since else clock_timestamp() end,
        guesses = 1 + case when clock_timestamp() < guess.since + make_interval(secs => within_s)
                           then guess.guesses else 0 end
    returning guesses
$$;

revoke all on function device_of_token(text), feed_of_secret(text), count_guess(float8) from public;
