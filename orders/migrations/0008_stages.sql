-- Guards of stages that were passed over, why a fit sheet took the former's place, and the finishing check.

-- +goose Up
alter table moves add column passed_over text not null default '';
alter table fit_sheets add column why text not null default '';

-- Every tick set or taken back. Those count that were set since the hat was last worked on: after_move is
-- the move by which it came to the bench.
create table finishing_ticks (
  id            integer primary key,
  commission_id text    not null references commissions (id),
  after_move    integer not null references moves (id),
  item          text    not null check (item <> ''),
  ticked        integer not null check (ticked in (0, 1)),
  who           text    not null check (who <> ''),
  at            integer not null check (at > 0)
) strict;
create index finishing_ticks_of_commission on finishing_ticks (commission_id);
create index finishing_ticks_of_move on finishing_ticks (after_move);

-- +goose StatementBegin
create trigger finishing_ticks_stay before update on finishing_ticks begin
  select raise(abort, 'a finishing check is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger finishing_ticks_keep before delete on finishing_ticks
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
begin
  select raise(abort, 'a finishing check is never removed');
end;
-- +goose StatementEnd
