--liquibase formatted sql
--changeset tugs:2-1
alter table JOB add column if not exists PILOT varchar(20) before FROM_AT;
alter table JOB add (HOURS int, RATE decimal(5, 2) not null default 1);
alter table JOB alter column VESSEL set not null;
alter table JOB alter column HOURS bigint;
create index if not exists JOB_PILOT_IX on JOB (PILOT) ;
create index JOB_PILOT_IX2 on JOB (PILOT, HOURS);
--changeset tugs:2-2
alter table JOB drop constraint JOB_UQ;
alter index JOB_PILOT_IX2 rename to JOB_PILOT_HOURS_IX;
alter table JOB rename column PILOT to PILOT_CODE;
alter table JOB drop column VESSEL;
alter table TUG add constraint TUG_NAME_UQ unique ("Name");
drop table if exists NOTHING, "nothing";
--changeset tugs:2-3 splitStatements:false
create alias TWICE as $$ int twice(int x) { return 2 * x; } $$;
--changeset tugs:2-4
create table BARGE as select ID, POWER from TUG;
alter table BARGE alter column ID set not null;
alter table BARGE add primary key (ID);
alter table BARGE add foreign key (POWER) references TUG (ID);
create index BARGE_POWER_IX on BARGE (POWER);
alter table BARGE rename to LIGHTER;
alter table LIGHTER add column TUG_ID bigint;
alter table LIGHTER add constraint LIGHTER_TUG foreign key (TUG_ID) references TUG (ID) on update cascade;
create index LIGHTER_TUG_IX on LIGHTER (TUG_ID);
alter table LIGHTER drop constraint LIGHTER_TUG;
set schema PUBLIC;
analyze;
