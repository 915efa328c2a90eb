--liquibase formatted sql
--changeset moorings:002-1
create schema if not exists billing;
create table billing.invoice (
  no int generated always as identity (start with 1000),
  mooring_id int not null,
  pilot_id uuid references public.pilot (id),
  amount numeric(12, 2),
  paid boolean default false not null,
  primary key (no)
);
create index invoice_mooring_idx on billing.invoice (mooring_id) where not paid;
create index if not exists invoice_mooring_idx on billing.invoice (pilot_id);
alter table billing.invoice add constraint invoice_mooring_fk foreign key (mooring_id) references mooring;
create table billing.line (
  invoice_no int references billing.invoice on delete cascade,
  no smallint,
  text text,
  constraint line_pk primary key (invoice_no, no)
);
create unique index line_text_uq on billing.line (invoice_no, md5(text));

--changeset moorings:002-2
set search_path to billing, public;
create index line_no_idx on line (no);
reset search_path;

--changeset moorings:002-3
alter table billing.line set schema public;
alter table line rename to invoice_line;
alter table invoice_line drop constraint line_pk, add column id bigserial, add primary key (id);
create unique index invoice_line_uq_ix on invoice_line (invoice_no, no);
alter table invoice_line add constraint invoice_line_uq unique using index invoice_line_uq_ix;
alter table invoice_line alter column text set not null;
drop index line_text_uq;
create table invoice_line_old (like invoice_line including all);
create table rate as select id, depth as d from berth with no data;
create table if not exists rate_history (like rate including indexes, valid tstzrange);
select id, name into pilot_copy from pilot where false;
create temporary table scratch (id int primary key);
create index scratch_ix on scratch (id);

--changeset moorings:002-4
alter table mooring drop column vessel_imo cascade;
alter table only mooring add column if not exists vessel_id bigint, add column if not exists note text;
create index mooring_vessel_idx on mooring (vessel_id nulls first) tablespace pg_default;
alter table pilot drop constraint pilot_license_key;
alter table pilot alter column license set not null, alter column name drop not null;
alter table if exists nothing add column x int;
truncate table reading;
drop table if exists reading_2023, nothing cascade;
create table reading_2025 partition of reading for values from ('2025-01-01') to ('2026-01-01');
create table reading_rest partition of reading default;
create index reading_taken_idx on reading (taken desc);
alter table billing.invoice set schema public;
