-- Where a tape's readings come from, when they were not read off a tape for this hat: a hat size in their
-- place, or readings of an earlier hat with the day on which they were taken; and the doubt that follows.

-- +goose Up
alter table answers add column source text not null default '{}' check (json_valid(source));
alter table measure_cards add column sources text not null default '{}' check (json_valid(sources)); -- by the tape's question
