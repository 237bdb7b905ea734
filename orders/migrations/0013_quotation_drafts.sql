-- A quotation that is being written, as it was typed: at most one for a commission, gone once it is sent.

-- +goose Up
create table quotation_drafts (
  commission_id text    primary key references commissions (id),
  body          text    not null check (json_valid(body)),
  newest        integer not null check (newest >= 0), -- quotations that were there when it was begun
  written_by    text    not null check (written_by <> ''),
  at            integer not null check (at > 0),
  version       integer not null check (version > 0)
) strict;
