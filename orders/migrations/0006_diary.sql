-- Hours held for a moment or offered, who waits for one, who stayed away, and the calendar feed.

-- +goose Up
alter table studio add column rules text not null default '{"MoveHours":24}' check (json_valid(rules));
alter table clients add column zone text not null default '';
alter table appointments add column changed integer not null default 0 check (changed >= 0);
alter table appointments add column missed integer not null default 0 check (missed in (0, 1));

create table waits (
  running       integer primary key autoincrement, -- the turn
  commission_id text    not null unique references commissions (id),
  kind          text    not null,
  place         text    not null,
  since         integer not null check (since > 0)
) strict;

-- An hour kept for one client until it expires. turn is 0 when she chose it, else her place in waits.
create table holds (
  id            text    primary key check (length(id) = 26),
  commission_id text    not null references commissions (id),
  moves         text    references appointments (id),
  turn          integer not null check (turn >= 0),
  kind          text    not null,
  place         text    not null,
  begins        integer not null check (begins > 0 and begins % 900000 = 0),
  ends          integer not null check (ends > begins and ends % 900000 = 0),
  expires       integer not null check (expires > 0)
) strict;
create unique index holds_chosen on holds (commission_id) where turn = 0;
create unique index holds_offered on holds (commission_id) where turn > 0;
create index holds_by_expiry on holds (expires);

-- A quarter of an hour belongs to an appointment or to a hold, and to no second one.
create table taken_quarters (
  quarter        integer primary key,
  appointment_id text references appointments (id),
  hold_id        text references holds (id),
  check ((appointment_id is null) <> (hold_id is null))
) strict;
insert into taken_quarters (quarter, appointment_id) select quarter, appointment_id from quarters;
drop table quarters;
alter table taken_quarters rename to quarters;
create index quarters_of_appointment on quarters (appointment_id);
create index quarters_of_hold on quarters (hold_id);

create table feed (
  id         integer primary key check (id = 1),
  generation integer not null,
  open       integer not null check (open in (0, 1)),
  names      integer not null check (names in (0, 1))
) strict;
