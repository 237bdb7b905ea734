-- Who erased a commission: 'client' when she did so herself, so that the milliner is told.

-- +goose Up
alter table erasures add column who text not null default '' check (who in ('', 'client'));
