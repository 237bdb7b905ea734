-- One thread a client: how she is written to, whether she is owed an answer, notes beside the letters,
-- photographs with them, and the milliner's own wordings.

-- +goose Up
alter table clients add column prefers text not null default '' check (prefers in ('', 'by hand')); -- '': by chat where there is one
alter table clients add column owed integer not null default 0; -- since when an answer is
update clients set owed = coalesce((select at from letters l where l.client_id = clients.id and l.kind = 'talk' and l.outgoing = 0
  and not exists (select 1 from letters later where later.client_id = l.client_id and later.kind = 'talk' and later.running > l.running)), 0);
create index clients_owed on clients (owed) where owed > 0;

-- Not among the letters, so that nothing can send one.
create table notes (
  id            text    primary key check (length(id) = 26),
  commission_id text    not null references commissions (id),
  body          text    not null check (body <> ''),
  written_by    text    not null check (written_by <> ''),
  at            integer not null check (at > 0)
) strict;
create index notes_of_commission on notes (commission_id);

-- The index of words knows a fixed list of kinds; a note is found as those of a measure card are.
-- +goose StatementBegin
create trigger note_searched after insert on notes begin
  insert into searched (kind, subject, client_id, commission_id)
    select 'card', new.id, c.client_id, c.id from commissions c where c.id = new.commission_id;
  insert into words (docid, body) select id, new.body from searched where kind = 'card' and subject = new.id;
end;
-- +goose StatementEnd

create table letter_photos (
  id        text primary key check (length(id) = 26),
  letter_id text not null references letters (id) on delete cascade,
  jpeg      blob not null check (length(jpeg) > 0)
) strict;
create index letter_photos_of_letter on letter_photos (letter_id);

create table wordings (
  kind    text    primary key,
  body    text    not null check (body <> ''),
  version integer not null
) strict;
