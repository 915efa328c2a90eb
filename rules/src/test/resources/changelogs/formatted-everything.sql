-- Liquibase Formatted SQL
-- a word in front

--property name:tbl value:berth
-- property name:kind value:varchar(20) dbms:h2,postgresql

--changeset "Anna Berg":"id 1" runOnChange:true failOnError:true
create table ${tbl} (id int primary key, kind ${kind});
--ignoreLines:2
create table ignored1 (id int);
create table ignored2 (id int);
create index ix1 on ${tbl} (kind);
--ignoreLines:start
create table ignored3 (id int);
--ignoreLines:end
/* liquibase rollback
  drop table berth;
  create table nope (id int);
*/
--changeset anna:2 rollbackSplitStatements:false
alter table ${tbl} add depth int;
--rollback alter table ${tbl} drop column depth;
--rollback create table nope2 (id int);
create index ix2 on ${tbl} (depth, kind);
--Changeset anna:3 context:"a or b" labels:x dbms:h2
create unique index ix3 on ${tbl} (depth);
--changeset anna:4 splitStatements:false endDelimiter:;
create index ix4 on ${tbl} (depth desc);
--changeset anna:5 logicalFilePath:elsewhere.sql
create table "Quoted" ("Id" int primary key, "user" varchar(9) unique);
create index "Quoted ix" on "Quoted" ("user", "Id");
--changeset anna:6 stripComments:false
-- comment; with semicolon
create /* inside; */ index ix6 -- tail; text
on ${tbl} (kind, depth);
--changeset anna:7
--preconditions onFail:MARK_RAN onError:MARK_RAN
--precondition-sql-check expectedResult:"0" SELECT COUNT(*) FROM berth
create table seven (id int);
