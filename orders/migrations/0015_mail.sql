-- Letters may go by mail. A client's mail is a chat whose address is her own id, so that her e-mail address stands
-- in one place and a corrected one serves at once.

-- +goose Up
alter table clients add column way text not null default '' check (way in ('', 'by e-mail', 'by hand')); -- '': by chat, else by mail
update clients set way = prefers;
alter table clients drop column prefers;
alter table clients rename column way to prefers;
