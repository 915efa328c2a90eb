--liquibase formatted sql
--changeset tugs:1
create table tug (
  id bigint not null generated always as identity (start with 1, increment by 1),
  name varchar(40) not null,
  power int default 0 constraint power_ck check (power >= 0),
  call_sign varchar(8) not null constraint tug_sign_uq unique,
  built date,
  constraint tug_pk primary key (id)
);
create index tug_name_ix on tug (name, built desc);
create index tug_name_ix2 on tug (name, built desc);
create unique index tug_sign_ux on tug (call_sign);
create table job (
  job_no int not null primary key, tug_id bigint references tug on delete cascade, vessel varchar(10), from_at timestamp,
  constraint job_uq unique (tug_id, from_at)
);
--changeset tugs:2
alter table job add column pilot varchar(8);
alter table job add constraint job_pilot_fk foreign key (pilot) references tug (call_sign) on delete cascade;
create index job_pilot_ix on job (pilot);
alter table job alter column vessel not null;
rename column job.vessel to vessel_no;
rename index tug_name_ix to tug_name_index;
alter table job drop constraint job_pilot_fk;
alter table tug drop constraint power_ck;
alter table tug drop column power restrict;
rename table job to towing;
create index towing_vessel_ix on towing (vessel_no, job_no);
alter table towing drop column from_at cascade;
create table crew (tug_id bigint not null, person varchar(20) not null);
alter table crew add primary key (tug_id, person);
create index crew_ix on crew (tug_id);
alter table crew drop primary key;
