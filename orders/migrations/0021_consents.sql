-- What clients have agreed to: every wording that was ever shown, numbered, and who agreed to which, when.

-- +goose Up
create table notices (
  version  integer primary key,
  question text    not null check (question <> ''),
  language text    not null check (language <> ''),
  wording  text    not null check (wording <> ''),
  since    integer not null check (since > 0),
  unique (question, language, wording)
) strict;

create table consents (
  id       integer primary key,
  draft_id text    not null references drafts (id) on delete cascade,
  question text    not null check (question <> ''),
  version  integer not null references notices (version),
  at       integer not null check (at > 0)
) strict;
create index consents_of_draft on consents (draft_id);
