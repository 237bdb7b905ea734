-- Cloth and elastic by the length, and the small things that are merely there or to be bought.

-- +goose Up
-- reel: the elastic that the studio's settings describe under that number; null for cloth.
create table rolls (
  number   integer primary key check (number > 0),
  reel     integer check (reel > 0),
  body     text    not null check (json_valid(body)),
  put_away integer not null default 0 check (put_away >= 0),
  version  integer not null,
  added    integer not null check (added > 0)
) strict;
create unique index rolls_of_reel on rolls (reel) where put_away = 0;

-- Every change of a length, in whole millimetres. Left is what lies there; free is what of it no fit sheet
-- has reserved. A row carries both sums up to itself, so that the newest says how a roll stands.
create table roll_entries (
  running       integer primary key autoincrement,
  id            text    not null unique check (length(id) = 26),
  roll          integer not null references rolls (number),
  kind          text    not null check (kind in ('bought', 'counted', 'reserved', 'used', 'let go')),
  left_by       integer not null,
  free_by       integer not null,
  left_after    integer not null check (left_after >= 0),
  free_after    integer not null check (free_after <= left_after),
  told          integer not null check (told in (0, 1)), -- she knows that less is free than is reserved
  ends          integer unique references roll_entries (running), -- the reservation that this one ends
  commission_id text    references commissions (id),
  sheet         integer not null check (sheet >= 0),
  note          text    not null,
  who           text    not null check (who <> ''),
  at            integer not null check (at > 0),
  check (free_after >= 0 or free_by >= 0 or told = 1),
  check ((kind in ('used', 'let go')) = (ends is not null)),
  check (case kind
    when 'bought' then left_by > 0 and free_by = left_by
    when 'counted' then free_by = left_by and note <> ''
    when 'reserved' then left_by = 0 and free_by < 0
    when 'used' then left_by <= 0
    when 'let go' then left_by = 0 and free_by > 0 end)
) strict;
create index roll_entries_of_roll on roll_entries (roll, running, left_after, free_after);
create index roll_entries_of_commission on roll_entries (commission_id, sheet);

-- +goose StatementBegin
create trigger roll_entries_add_up before insert on roll_entries
when new.left_after <> new.left_by + coalesce((select left_after from roll_entries where roll = new.roll order by running desc limit 1), 0)
  or new.free_after <> new.free_by + coalesce((select free_after from roll_entries where roll = new.roll order by running desc limit 1), 0)
  or exists (select 1 from rolls where number = new.roll and put_away > 0)
begin
  select raise(abort, 'lengths of a roll are sums of its entries');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger roll_entries_reserve_once before insert on roll_entries
when new.kind = 'reserved' and (new.commission_id is null or new.sheet = 0 or exists (
  select 1 from roll_entries e join rolls r on r.number = e.roll
  where e.commission_id = new.commission_id and (r.reel is null) = (select reel is null from rolls where number = new.roll)
    and (e.kind = 'used' and e.sheet = new.sheet
      or e.kind = 'reserved' and not exists (select 1 from roll_entries x where x.ends = e.running))))
begin
  select raise(abort, 'a fit sheet reserves and uses a length once');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger roll_entries_end_what_was_reserved before insert on roll_entries
when new.ends is not null and not exists (select 1 from roll_entries e where e.running = new.ends and e.kind = 'reserved' and e.roll = new.roll
  and e.commission_id = new.commission_id and e.sheet = new.sheet and new.free_by = new.left_by - e.free_by)
begin
  select raise(abort, 'what ends a reservation gives all of it back');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger roll_entries_stay before update on roll_entries
when not (new.commission_id is null and new.sheet = 0 and new.note = '' and new.running = old.running and new.id = old.id and new.roll = old.roll and new.kind = old.kind
  and new.left_by = old.left_by and new.free_by = old.free_by and new.left_after = old.left_after and new.free_after = old.free_after
  and new.told = old.told and new.ends is old.ends and new.who = old.who and new.at = old.at
  and exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id))
begin
  select raise(abort, 'an entry of a roll is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger roll_entries_keep before delete on roll_entries begin
  select raise(abort, 'an entry of a roll is never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger rolls_keep before delete on rolls begin
  select raise(abort, 'a roll is put away and never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger rolls_away_empty before update on rolls
when new.put_away > 0 and exists (select 1 from roll_entries e where e.running = (select max(running) from roll_entries where roll = new.number)
  and (e.left_after <> 0 or e.free_after <> 0))
begin
  select raise(abort, 'only what is empty is put away');
end;
-- +goose StatementEnd

-- Which hats have no roll chosen is asked of many sheets, and a sheet is long.
create index fit_sheets_by_roll on fit_sheets (commission_id, number, json_extract(figures, '$."cloth.roll"'));

create table notions (
  id     text    primary key check (length(id) = 26),
  name   text    not null unique collate nocase check (name <> ''),
  to_buy integer not null check (to_buy in (0, 1))
) strict;
