-- The list of commissions is read a page at a time, in the order of the day of wearing.

-- +goose Up
create index commissions_open on commissions (day, year, running) where stage not in ('handed over', 'withdrawn', 'lapsed');
drop index commissions_by_stage_and_day;
create index commissions_by_stage_and_day on commissions (stage, day, year, running);

-- How many commissions stand at each stage, so that nobody has to count them.
create table standing (
  stage text    primary key,
  n     integer not null check (n >= 0)
) strict, without rowid;
insert into standing select stage, count(*) from commissions group by stage;

-- +goose StatementBegin
create trigger standing_more after insert on commissions begin
  insert into standing values (new.stage, 1) on conflict do update set n = n + 1;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger standing_elsewhere after update of stage on commissions when new.stage <> old.stage begin
  update standing set n = n - 1 where stage = old.stage;
  insert into standing values (new.stage, 1) on conflict do update set n = n + 1;
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger standing_fewer after delete on commissions begin
  update standing set n = n - 1 where stage = old.stage;
end;
-- +goose StatementEnd
