-- What a fitting really gave, and whether proposals go by it.

-- +goose Up
create table fitting_notes (
  id            text    primary key check (length(id) = 26),
  commission_id text    not null references commissions (id),
  sheet         integer not null check (sheet > 0),
  reel          text    not null,
  posted        integer not null check (posted in (0, 1)), -- tried on at home, and never seen by the maker
  proposed      text    not null check (json_valid(proposed)), -- figures before anything was learned
  made          text    not null check (json_valid(made)),
  changed       text    not null,
  comfort       text    not null,
  hold          text    not null,
  said          text    not null,
  noted_by      text    not null check (noted_by <> ''),
  noted         integer not null check (noted > 0)
) strict;
create index fitting_notes_of_commission on fitting_notes (commission_id);
create index fitting_notes_by_time on fitting_notes (noted);

create table fitting_photos (
  id      text    primary key check (length(id) = 26),
  note_id text    not null references fitting_notes (id) on delete cascade,
  jpeg    blob    not null check (length(jpeg) > 0)
) strict;
create index fitting_photos_of_note on fitting_photos (note_id);

create table learning (
  id  integer primary key check (id = 1),
  off integer not null check (off in (0, 1))
) strict;

-- +goose StatementBegin
create trigger fitting_notes_stay before update on fitting_notes begin
  select raise(abort, 'a fitting note is never changed');
end;
-- +goose StatementEnd
-- +goose StatementBegin
create trigger fitting_notes_keep before delete on fitting_notes
when not exists (select 1 from erasures e join commissions c on c.year = e.year and c.running = e.running where c.id = old.commission_id)
begin
  select raise(abort, 'a fitting note is never removed');
end;
-- +goose StatementEnd
