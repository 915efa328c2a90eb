--liquibase formatted sql

--changeset moorings:001-1 labels:"pilots,!demo" context:"!test or prod"
--comment: pilots and their licenses; made by hand
create table pilot (
  id          uuid primary key default gen_random_uuid(),
  name        varchar(80) not null,
  license     varchar(20) unique,
  area        text references berth (code),
  rank        smallint generated always as (length(license)) stored,
  valid       daterange,
  chief_id    uuid constraint pilot_chief_fk references pilot on delete set null,
  exclude using gist (valid with &&)
);
comment on table pilot is 'who steers; and how';
comment on column pilot.name is 'it''s a name; really';
create index on pilot (area);
create index on pilot (upper(name), rank desc);
create unique index on pilot (chief_id) where rank > 3;
--rollback drop table pilot;
--rollback drop index pilot_area_idx;

--changeset moorings:001-2 splitStatements:false
create function touch() returns trigger as $body$
begin
  new.changed_at := now();
  create index never_made on pilot (rank);
  return new;
end;
$body$ language plpgsql;

--changeset moorings:001-3 endDelimiter:/
create trigger berth_touch before update on berth for each row execute function touch()
/
create or replace procedure tidy() language sql as $$
  delete from mooring where to_time < now() - interval '9 years';
$$
/
alter table pilot add column hired date, add constraint pilot_name_hired unique (name, hired)
/

--changeset moorings:001-4 stripComments:true
/* Two things; in one
   change set */
alter table pilot rename column area to home_code; -- ; not the end
alter table pilot alter column home_code type varchar(12) using home_code::varchar(12);
alter index pilot_area_idx rename to pilot_home_idx;

--changeset moorings:001-5 failOnError:true runOnChange:true
--preconditions onFail:MARK_RAN onError:HALT
--precondition-sql-check expectedResult:0 select count(*) from pg_indexes where indexname = 'pilot_hired_idx'
create index pilot_hired_idx on pilot using brin (hired);

--changeset moorings:001-6
--preconditions onFail:MARK_RAN
--precondition-sql-check expectedResult:1 select count(*) from information_schema.tables where table_name = 'nothing'
create index pilot_hired_idx_2 on pilot (hired);

--changeset moorings:001-7 dbms:mysql
create index pilot_hired_idx_3 on pilot (hired);

--changeset moorings:001-8 dbms:postgresql,h2 runInTransaction:false
drop index concurrently if exists pilot_home_idx;
create index concurrently if not exists pilot_home_idx on pilot (home_code, name);
