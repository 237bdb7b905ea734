-- The language in which a client is spoken to, as a tag; '': none chosen yet, so the browser's or English.

-- +goose Up
alter table drafts  add column language text not null default '' check (length(language) <= 8);
alter table clients add column language text not null default '' check (length(language) <= 8);
alter table chats   add column language text not null default '' check (length(language) <= 8);
