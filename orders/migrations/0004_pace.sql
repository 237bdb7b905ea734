-- How long the parts of a hat take, and the hours at the bench.

-- +goose Up
create table pace (
  id      integer primary key check (id = 1),
  body    text    not null check (json_valid(body)),
  version integer not null
) strict;

-- What is due is asked for by stage and day.
create index commissions_by_stage_and_day on commissions (stage, day);

-- What waits in the letter books.
create index letters_talked on letters (client_id, running) where kind = 'talk';
create index letters_to_copy on letters (commission_id) where state = 'to copy';
