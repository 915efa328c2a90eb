--liquibase formatted sql

--changeset harbour:1
create table vessel (id integer primary key autoincrement, imo text unique, name text collate nocase not null, flag, unique (name, flag), unique (flag, name));
create table berth (port int, no int, depth real, primary key (port, no), unique (port, no));
create table tide (station text primary key, at int, height real) without rowid;
create table booking (id int primary key, vessel_id integer references vessel, state text check (state <> ''), at text);
create index booking_at_ix on booking (at desc, state collate nocase);
create unique index booking_open_uq on booking (vessel_id) where state = 'open';
create index vessel_lower_ix on vessel (lower(name), flag);
create index if not exists booking_at_ix on booking (state);

--changeset harbour:2
alter table booking add column pilot text;
alter table booking add column berth int references berth (port);
alter table booking rename column state to status;
alter table tide rename to tides;
alter table berth drop column depth;
drop index vessel_lower_ix;
create index [tides at] on [tides] ("at", `height`);
create table gone (a int);
drop table if exists gone;
create view late as select * from booking;
