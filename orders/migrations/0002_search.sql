-- What can be searched: one body of words for each client, commission, letter and note of the bench.
-- Triggers keep it, so that no change of what is searched can leave it behind.

-- +goose Up
create table searched (
  id            integer primary key,
  kind          text not null check (kind in ('client', 'commission', 'letter', 'working', 'sheet', 'card')),
  subject       text not null,
  client_id     text,
  commission_id text,
  unique (kind, subject)
) strict;
create index searched_of_client on searched (client_id);

create virtual table words using fts4 (body, tokenize=unicode61);

-- Each three letters that follow one another in a name, to find it in spite of a slip.
create table name_parts (
  part      text not null,
  client_id text not null,
  primary key (part, client_id)
) strict, without rowid;
create index name_parts_of_client on name_parts (client_id);

create table places (n integer primary key) strict; -- of a letter in a name
insert into places with recursive up(n) as (select 1 union all select n + 1 from up where n < 200) select n from up;

-- +goose StatementBegin
create trigger searched_goes after delete on searched begin
  delete from words where docid = old.id;
end;
-- +goose StatementEnd

-- +goose StatementBegin
create trigger client_searched after insert on clients begin
  insert into searched (kind, subject, client_id) values ('client', new.id, new.id);
  insert into words (docid, body) select id, new.name || ' ' || new.reach from searched where kind = 'client' and subject = new.id;
  insert or ignore into name_parts select substr(' ' || lower(new.name) || ' ', n, 3), new.id from places where n < length(new.name) + 1;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger client_searched_anew after update of name, reach on clients begin
  update words set body = new.name || ' ' || new.reach where docid = (select id from searched where kind = 'client' and subject = new.id);
  delete from name_parts where client_id = new.id;
  insert or ignore into name_parts select substr(' ' || lower(new.name) || ' ', n, 3), new.id from places where n < length(new.name) + 1;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger client_not_searched after delete on clients begin
  delete from searched where kind = 'client' and subject = old.id;
  delete from name_parts where client_id = old.id;
end;
-- +goose StatementEnd

-- +goose StatementBegin
create trigger commission_searched after insert on commissions begin
  insert into searched (kind, subject, client_id, commission_id) values ('commission', new.id, new.client_id, new.id);
  insert into words (docid, body) select id, printf('%02d-%03d %s %s', new.year % 100, new.running, new.occasion, new.day)
    from searched where kind = 'commission' and subject = new.id;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger commission_searched_anew after update of occasion, day on commissions begin
  update words set body = printf('%02d-%03d %s %s', new.year % 100, new.running, new.occasion, new.day)
    where docid = (select id from searched where kind = 'commission' and subject = new.id);
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger commission_not_searched after delete on commissions begin
  delete from searched where commission_id = old.id;
end;
-- +goose StatementEnd

-- What was asked and answered in an intake chat stands in the answers and is not searched.
-- +goose StatementBegin
create trigger letter_searched after insert on letters when new.kind <> 'intake' begin
  insert into searched (kind, subject, client_id, commission_id)
    values ('letter', new.id, coalesce(new.client_id, (select client_id from chats where id = new.chat_id)), new.commission_id);
  insert into words (docid, body) select id, new.body from searched where kind = 'letter' and subject = new.id;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger letter_searched_anew after update of body on letters when new.kind <> 'intake' begin
  update words set body = new.body where docid = (select id from searched where kind = 'letter' and subject = new.id);
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger letter_not_searched after delete on letters begin
  delete from searched where kind = 'letter' and subject = old.id;
end;
-- +goose StatementEnd
-- A chat whose client has only become known brings its letters along.
-- +goose StatementBegin
create trigger chat_searched after update of client_id on chats begin
  update searched set client_id = new.client_id where kind = 'letter' and commission_id is null
    and subject in (select id from letters where chat_id = new.id and client_id is null);
end;
-- +goose StatementEnd

-- +goose StatementBegin
create trigger working_searched after insert on workings begin
  insert into searched (kind, subject, client_id, commission_id)
    select 'working', c.id, c.client_id, c.id from commissions c where c.id = new.commission_id;
  insert into words (docid, body) select id, new.note from searched where kind = 'working' and subject = new.commission_id;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger working_searched_anew after update of note on workings begin
  update words set body = new.note where docid = (select id from searched where kind = 'working' and subject = new.commission_id);
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger working_not_searched after delete on workings begin
  delete from searched where kind = 'working' and subject = old.commission_id;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger sheet_searched after insert on fit_sheets begin
  insert into searched (kind, subject, client_id, commission_id)
    select 'sheet', new.id, c.client_id, c.id from commissions c where c.id = new.commission_id;
  insert into words (docid, body) select id, new.note from searched where kind = 'sheet' and subject = new.id;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger card_searched after insert on measure_cards begin
  insert into searched (kind, subject, client_id, commission_id)
    select 'card', new.id, c.client_id, c.id from commissions c where c.id = new.commission_id;
  insert into words (docid, body) select id, new.note from searched where kind = 'card' and subject = new.id;
end;
-- +goose StatementEnd

-- What is there already.
insert into searched (kind, subject, client_id) select 'client', id, id from clients;
insert into words (docid, body) select s.id, c.name || ' ' || c.reach from searched s join clients c on c.id = s.subject where s.kind = 'client';
insert or ignore into name_parts select substr(' ' || lower(c.name) || ' ', n, 3), c.id from clients c join places on n < length(c.name) + 1;
insert into searched (kind, subject, client_id, commission_id) select 'commission', id, client_id, id from commissions;
insert into words (docid, body) select s.id, printf('%02d-%03d %s %s', c.year % 100, c.running, c.occasion, c.day)
  from searched s join commissions c on c.id = s.subject where s.kind = 'commission';
insert into searched (kind, subject, client_id, commission_id)
  select 'letter', l.id, coalesce(l.client_id, ch.client_id), l.commission_id from letters l left join chats ch on ch.id = l.chat_id where l.kind <> 'intake';
insert into words (docid, body) select s.id, l.body from searched s join letters l on l.id = s.subject where s.kind = 'letter';
insert into searched (kind, subject, client_id, commission_id) select 'working', c.id, c.client_id, c.id from workings w join commissions c on c.id = w.commission_id;
insert into words (docid, body) select s.id, w.note from searched s join workings w on w.commission_id = s.subject where s.kind = 'working';
insert into searched (kind, subject, client_id, commission_id) select 'sheet', f.id, c.client_id, c.id from fit_sheets f join commissions c on c.id = f.commission_id;
insert into words (docid, body) select s.id, f.note from searched s join fit_sheets f on f.id = s.subject where s.kind = 'sheet';
insert into searched (kind, subject, client_id, commission_id) select 'card', m.id, c.client_id, c.id from measure_cards m join commissions c on c.id = m.commission_id;
insert into words (docid, body) select s.id, m.note from searched s join measure_cards m on m.id = s.subject where s.kind = 'card';
