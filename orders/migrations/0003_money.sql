-- What a hat costs: amounts are whole numbers of the currency's smallest unit.

-- +goose Up
create table terms (
  id      integer primary key check (id = 1),
  body    text    not null check (json_valid(body)),
  version integer not null
) strict;

create table quotations (
  id            text    primary key check (length(id) = 26),
  commission_id text    not null references commissions (id),
  number        integer not null check (number > 0),
  body          text    not null check (json_valid(body)),
  total         integer not null check (total > 0),
  made_by       text    not null check (made_by <> ''),
  made          integer not null check (made > 0),
  unique (commission_id, number)
) strict;

create table acceptances (
  quotation_id text    primary key references quotations (id),
  name         text    not null check (name <> ''),
  total        integer not null check (total > 0),
  wording      text    not null check (wording <> ''),
  at           integer not null check (at > 0)
) strict;

-- Receipts are numbered without gaps and stay in the books when a client is erased, without her.
create table payments (
  receipt       integer primary key check (receipt > 0),
  id            text    not null unique check (length(id) = 26),
  commission_id text    references commissions (id),
  payer         text    not null,
  amount        integer not null check (amount <> 0), -- below nothing: given back
  currency      text    not null check (length(currency) = 3),
  way           text    not null check (way <> ''),
  day           text    not null check (day glob '????-??-??'),
  entered_by    text    not null check (entered_by <> ''),
  at            integer not null check (at > 0)
) strict;
create index payments_of_commission on payments (commission_id);

-- +goose StatementBegin
create trigger quotations_stay before update on quotations begin
  select raise(abort, 'a quotation is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger quotations_keep before delete on quotations
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
begin
  select raise(abort, 'a quotation is never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger acceptances_stay before update on acceptances begin
  select raise(abort, 'an acceptance is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger acceptances_keep before delete on acceptances
when not exists (select 1 from quotations q join commissions c on c.id = q.commission_id
  join erasures e on c.year = e.year and c.running = e.running where q.id = old.quotation_id)
begin
  select raise(abort, 'an acceptance is never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger payments_follow before insert on payments
when new.receipt <> coalesce((select max(receipt) from payments), 0) + 1
begin
  select raise(abort, 'receipts have no gaps');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger payments_stay before update on payments
when not (new.commission_id is null and new.payer = ''
  and new.receipt = old.receipt and new.id = old.id and new.amount = old.amount and new.currency = old.currency
  and new.way = old.way and new.day = old.day and new.entered_by = old.entered_by and new.at = old.at
  and exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id))
begin
  select raise(abort, 'a payment is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger payments_keep before delete on payments begin
  select raise(abort, 'a payment is never removed');
end;
-- +goose StatementEnd
