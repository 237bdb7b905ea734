-- +goose Up
alter table chats add column shut integer not null default 0; -- since when it takes nothing from us
drop index letters_to_copy;
create index letters_by_hand on letters (commission_id) where kind = 'talk' and state in ('to copy', 'failed');
create index letters_waiting_since on letters (at) where state = 'waiting';
