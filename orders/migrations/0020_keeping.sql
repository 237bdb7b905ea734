-- For how long what is kept, and what the milliner decided when the time was over.

-- +goose Up
create table keeping (
  id         integer primary key check (id = 1),
  months     integer not null check (months between 1 and 120),    -- measurements, after a hat is handed over
  draft_days integer not null check (draft_days between 1 and 365), -- an enquiry that is not sent in
  version    integer not null
) strict;

create table kept_on (
  id            integer primary key,
  commission_id text    not null references commissions (id),
  until         integer not null check (until > 0),
  why           text    not null check (why <> ''),
  who           text    not null check (who <> ''),
  at            integer not null check (at > 0)
) strict;
create index kept_on_of_commission on kept_on (commission_id);

create table measures_erased (
  commission_id text    primary key references commissions (id),
  at            integer not null check (at > 0)
) strict;

-- Cards and sheets go with their commission, and those of before when its measurements are erased.
drop trigger measure_cards_keep;
drop trigger fit_sheets_keep;
-- +goose StatementBegin
create trigger measure_cards_keep before delete on measure_cards
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
  and not exists (select 1 from measures_erased m where m.commission_id = old.commission_id and m.at >= old.taken)
begin
  select raise(abort, 'a measure card is never removed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger fit_sheets_keep before delete on fit_sheets
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
  and not exists (select 1 from measures_erased m where m.commission_id = old.commission_id and m.at >= old.signed)
begin
  select raise(abort, 'a fit sheet is never removed');
end;
-- +goose StatementEnd
