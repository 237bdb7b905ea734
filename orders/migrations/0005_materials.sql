-- What hats are made of in the workroom: elastic by the reel, cloth, estimates.

-- +goose Up
alter table studio add column materials text not null default '{}' check (json_valid(materials));
