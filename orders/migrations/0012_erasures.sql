-- Which lines of the list of erasures this database has followed. The list is a file beside it.

-- +goose Up
create table followed (
  erasure text primary key check (length(erasure) = 26)
) strict, without rowid;
