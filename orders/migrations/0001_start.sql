-- Times are milliseconds since 1970 in UTC, 0 for never. Lengths are tenths of a millimetre, or the
-- text in which an answer is kept. Random ids have 26 letters.

-- +goose Up
create table secrets (
  name  text primary key,
  value blob not null check (length(value) = 32)
) strict;

create table studio (
  id          integer primary key check (id = 1),
  name        text    not null,
  place       text    not null,
  reach       text    not null,
  zone        text    not null,
  hours       text    not null check (json_valid(hours)),
  closed_days text    not null check (json_valid(closed_days)),
  buffer      integer not null check (buffer between 0 and 1440),
  notice      integer not null check (notice between 0 and 8760),
  minutes     text    not null check (json_valid(minutes)),
  blocks      text    not null check (json_valid(blocks)),
  side        text    not null check (side in ('left', 'right')),
  version     integer not null
) strict;

create table makers (
  id            text primary key check (length(id) = 26),
  name          text not null unique collate nocase check (name <> ''),
  password_hash text not null check (password_hash <> '')
) strict;

create table clients (
  id      text    primary key check (length(id) = 26),
  name    text    not null,
  reach   text    not null,
  version integer not null
) strict;

create table drafts (
  id         text    primary key check (length(id) = 26),
  generation integer not null,
  door       text    not null check (door in ('web', 'chat', 'rehearsal')),
  begun      integer not null check (begun > 0),
  changed    integer not null check (changed > 0) -- when an answer was last given
) strict;
create index drafts_by_change on drafts (changed);

create table answers (
  draft_id  text    not null references drafts (id) on delete cascade,
  question  text    not null check (question <> ''),
  value     text    not null,
  said      text    not null,
  confirmed integer not null check (confirmed in (0, 1)),
  primary key (draft_id, question)
) strict, without rowid;

-- What was answered otherwise after the draft had been sent.
create table amendments (
  id       integer primary key,
  draft_id text    not null references drafts (id) on delete cascade,
  question text    not null,
  was      text    not null check (json_valid(was)),
  now      text    not null check (json_valid(now)),
  at       integer not null check (at > 0)
) strict;
create index amendments_of_draft on amendments (draft_id);

create table photos (
  id       text    primary key check (length(id) = 26),
  draft_id text    not null references drafts (id) on delete cascade,
  jpeg     blob    not null check (length(jpeg) > 0),
  added    integer not null check (added > 0)
) strict;
create index photos_of_draft on photos (draft_id);

create table commissions (
  id         text    primary key check (length(id) = 26),
  year       integer not null check (year between 2000 and 9999),
  running    integer not null check (running > 0),
  client_id  text    not null references clients (id),
  draft_id   text    not null unique references drafts (id),
  kind       text    not null,
  stage      text    not null check (stage <> ''),
  occasion   text    not null,
  day        text    not null,
  generation integer not null,
  version    integer not null,
  made       integer not null check (made > 0),
  unique (year, running)
) strict;
create index commissions_of_client on commissions (client_id);

-- Which commissions were erased, by the number that nothing else may have, and when. Nothing personal.
create table erasures (
  year    integer not null,
  running integer not null,
  at      integer not null check (at > 0),
  primary key (year, running)
) strict, without rowid;

create table moves (
  id            integer primary key,
  commission_id text    not null references commissions (id),
  came_from     text    not null,
  entered       text    not null check (entered <> ''),
  who           text    not null check (who <> ''),
  why           text    not null,
  at            integer not null check (at > 0)
) strict;
create index moves_of_commission on moves (commission_id);

create table measure_cards (
  id            text    primary key check (length(id) = 26),
  running       integer not null unique check (running > 0),
  commission_id text    not null references commissions (id),
  taken_by      text    not null check (taken_by in ('client', 'maker')),
  girth         text    not null, -- readings, as the answers keep them: "570.0 572.5"
  nape_to_crown text    not null,
  ear_to_ear    text    not null,
  brow_to_nape  text    not null,
  head_length   integer not null check (head_length >= 0),
  head_breadth  integer not null check (head_breadth >= 0),
  note          text    not null,
  taken         integer not null check (taken > 0)
) strict;
create index measure_cards_of_commission on measure_cards (commission_id);

create table workings (
  commission_id text    primary key references commissions (id),
  figures       text    not null check (json_valid(figures)),
  note          text    not null,
  version       integer not null
) strict;

create table fit_sheets (
  id            text    primary key check (length(id) = 26),
  commission_id text    not null references commissions (id),
  number        integer not null check (number > 0),
  input         text    not null check (json_valid(input)),
  proposal      text    not null check (json_valid(proposal)),
  result        text    not null check (json_valid(result)),
  figures       text    not null check (json_valid(figures)),
  note          text    not null,
  signed_by     text    not null check (signed_by <> ''),
  signed        integer not null check (signed > 0),
  unique (commission_id, number)
) strict;

create table appointments (
  id            text    primary key check (length(id) = 26),
  commission_id text    not null references commissions (id),
  kind          text    not null,
  place         text    not null,
  state         text    not null check (state in ('booked', 'confirmed', 'move asked', 'cancelled')),
  wish          text    not null,
  begins        integer not null check (begins > 0 and begins % 900000 = 0),
  ends          integer not null check (ends > begins and ends % 900000 = 0),
  sequence      integer not null,
  version       integer not null
) strict;
create index appointments_of_commission on appointments (commission_id);
create index appointments_by_time on appointments (begins);

-- Every quarter of an hour that an appointment or the buffer after it takes, counted from 1970. The
-- primary key is what makes a double booking impossible.
create table quarters (
  quarter        integer primary key,
  appointment_id text not null references appointments (id)
) strict;
create index quarters_of_appointment on quarters (appointment_id);

create table chats (
  running   integer primary key,
  id        text    not null unique check (length(id) = 26),
  channel   text    not null check (channel <> ''),
  address   text    not null check (address <> ''),
  draft_id  text references drafts (id),
  client_id text references clients (id),
  asking    text    not null,
  pending   text    not null check (json_valid(pending)),
  version   integer not null,
  unique (channel, address)
) strict;
create index chats_of_draft on chats (draft_id);
create index chats_of_client on chats (client_id);

-- Letter book and outbox in one: what waits is what has not gone out.
create table letters (
  running       integer primary key autoincrement,
  id            text    not null unique check (length(id) = 26),
  client_id     text references clients (id),
  commission_id text references commissions (id),
  chat_id       text references chats (id),
  outgoing      integer not null check (outgoing in (0, 1)),
  kind          text    not null check (kind in ('talk', 'intake')),
  body          text    not null,
  buttons       text    not null check (json_valid(buttons)),
  state         text    not null check (state in ('waiting', 'sent', 'to copy', 'copied', 'failed', 'received')),
  tries         integer not null,
  reason        text    not null,
  at            integer not null check (at > 0),
  sent          integer not null,
  check (client_id is not null or chat_id is not null),
  check (state <> 'waiting' or chat_id is not null)
) strict;
create index letters_of_client on letters (client_id);
create index letters_of_chat on letters (chat_id);
create index letters_waiting on letters (chat_id, running) where state = 'waiting';

create table codes (
  hash    blob    primary key check (length(hash) = 32),
  subject text    not null,
  expires integer not null check (expires > 0)
) strict, without rowid;

create table sessions (
  token   text    primary key,
  data    blob    not null,
  expires integer not null check (expires > 0)
) strict, without rowid;

create table handled (
  source text    primary key,
  at     integer not null check (at > 0)
) strict, without rowid;

-- What was measured, signed or done is never rewritten. It is removed only with the whole commission,
-- which is written down in erasures first.
-- +goose StatementBegin
create trigger measure_cards_stay before update on measure_cards begin
  select raise(abort, 'a measure card is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger measure_cards_keep before delete on measure_cards
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
begin
  select raise(abort, 'a measure card is never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger fit_sheets_stay before update on fit_sheets begin
  select raise(abort, 'a fit sheet is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger fit_sheets_keep before delete on fit_sheets
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
begin
  select raise(abort, 'a fit sheet is never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger moves_stay before update on moves begin
  select raise(abort, 'history is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger moves_keep before delete on moves
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
begin
  select raise(abort, 'history is never removed');
end;
-- +goose StatementEnd
