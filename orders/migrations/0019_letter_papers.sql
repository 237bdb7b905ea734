-- PDF files that go with letters, kept as they came and never opened.

-- +goose Up
create table letter_papers (
  id        text primary key check (length(id) = 26),
  letter_id text not null references letters (id) on delete cascade,
  pdf       blob not null check (length(pdf) > 0)
) strict;
create index letter_papers_of_letter on letter_papers (letter_id);
