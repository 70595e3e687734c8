-- Logs of many workshops, their entries and their photos. Each row belongs to one workshop: queries say which, and
-- row-level security lets the server's role see no other, whatever a query says.

create function current_workshop() returns integer
language sql stable
as $$ select nullif(current_setting('slipbook.workshop', true), '')::integer $$;

-- `top` is the number above which new entries get theirs, and the row is the lock under which numbers are given out.
-- It changes with each batch, and so pages keep room for its next version.
create table workshop (
    id integer generated always as identity primary key,
    name text not null unique,
    log_id uuid not null unique,
    generation uuid not null,
    receipt_key text not null,
    demo boolean not null default false,
    gaps text not null default '[]',
    skipped text not null default '[]',
    top bigint not null default 0,
    erased bigint not null default 0,
    came_back bigint not null default 0,
    -- The server and its timeline, so that a promoted standby or a copy that was played back is noticed.
    timeline text not null,
    -- Where the log went, if it was moved away: then nothing is added here any more.
    moved text not null default '',
    made timestamptz not null default now()
) with (fillfactor = 40);

-- An entry's text without its number, byte for byte as a folder's file has it: jsonb would change it.
create table entry (
    workshop integer not null,
    seq bigint not null,
    id uuid not null,
    unit text collate "C" not null,
    said text not null,
    primary key (workshop, seq),
    unique (workshop, id)
);

create index entry_by_unit on entry (workshop, unit, seq);

-- What came back to a log that had lost it.
create table returned (
    workshop integer not null references workshop (id) on delete cascade,
    generation uuid not null,
    source text not null,
    entries bigint not null,
    photos bigint not null,
    at timestamptz not null,
    primary key (workshop, generation, source)
);

-- Photos are compressed already.
create table photo (
    workshop integer not null,
    sha256 text collate "C" not null,
    data bytea not null,
    primary key (workshop, sha256)
);

alter table photo alter column data set storage external;

create table photo_piece (
    workshop integer not null,
    sha256 text collate "C" not null,
    start integer not null,
    data bytea not null,
    primary key (workshop, sha256, start)
);

alter table photo_piece alter column data set storage external;

alter table workshop enable row level security;
alter table entry enable row level security;
alter table returned enable row level security;
alter table photo enable row level security;
alter table photo_piece enable row level security;

create policy own on workshop using (id = current_workshop());
create policy own on entry using (workshop = current_workshop());
create policy own on returned using (workshop = current_workshop());
create policy own on photo using (workshop = current_workshop());
create policy own on photo_piece using (workshop = current_workshop());

-- The one way by which entries are added, also those that are sent again. At READ COMMITTED each statement sees what
-- was committed before it began: so the lock is taken first, in a statement of its own, and whoever waited for it sees
-- the entries of whoever had it. Numbers are given out under the lock, in the order in which batches are committed.
--
-- Of each entry, in order: its id, its unit, the number that it comes back with or null, and its text; no text where the
-- caller has seen that id in the log, and only wants to know what it has there. Answers in the same order: the number in the log; whether this call has stored it; else the text that the log has.
-- Answers nothing where something was erased since the caller looked, or where the log was last written on another
-- server or timeline than this, or where an id without a text is not there: then the caller has to look again.
create function add_entries(ids uuid[], units text[], numbers bigint[], texts text[], erased_then bigint, timeline_now text)
returns table (place bigint, number bigint, is_new boolean, said_before text)
language plpgsql
as $$
declare
    mine constant integer := current_workshop();
    counter workshop%rowtype;
    stored uuid[];
    highest bigint;
begin
    select * into counter from workshop where workshop.id = mine for update;
    if not found then
        raise exception 'no workshop' using errcode = 'SB001';
    end if;
    if counter.moved <> '' then
        raise exception '%', counter.moved using errcode = 'SB002';
    end if;
    if counter.erased <> erased_then or counter.timeline <> timeline_now then
        return;
    end if;
    if exists (
        select from unnest(ids, texts) as row (id, said) where row.said is null
        and not exists (select from entry where entry.workshop = mine and entry.id = row.id)
    ) then
        return;
    end if;
    with given as (
        select * from unnest(ids, units, numbers, texts) with ordinality as row (id, unit, own, said, place)
    ), fresh as (
        select distinct on (given.id) given.* from given
        where not exists (select from entry where entry.workshop = mine and entry.id = given.id)
        order by given.id, given.place
    ), again as (
        select distinct on (fresh.own) fresh.place, fresh.own from fresh
        where fresh.own is not null
        and not exists (select from entry where entry.workshop = mine and entry.seq = fresh.own)
        order by fresh.own, fresh.place
    ), base as (
        select greatest(counter.top, coalesce(max(again.own), 0)) as top from again
    ), numbered as (
        select again.place, again.own as seq from again
        union all
        select fresh.place, base.top + row_number() over (order by fresh.place) from fresh cross join base
        where not exists (select from again where again.place = fresh.place)
    ), inserted as (
        insert into entry (workshop, seq, id, unit, said)
        select mine, numbered.seq, fresh.id, fresh.unit, fresh.said
        from numbered join fresh using (place) order by numbered.seq
        returning entry.id, entry.seq
    )
    select coalesce(array_agg(inserted.id), '{}'), coalesce(max(inserted.seq), 0) into stored, highest from inserted;
    if highest > counter.top then
        update workshop set top = highest where workshop.id = mine;
    end if;
    return query
        with given as (
            select row.id, row.place, row_number() over (partition by row.id order by row.place) as time
            from unnest(ids) with ordinality as row (id, place)
        )
        select given.place, entry.seq, given.time = 1 and given.id = any (stored),
            case when given.time = 1 and given.id = any (stored) then null else entry.said end
        from given join entry on entry.workshop = mine and entry.id = given.id
        order by given.place;
end
$$;
