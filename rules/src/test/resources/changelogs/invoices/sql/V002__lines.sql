-- liquibase formatted sql

-- changeset invoices:lines-1 dbms:mariadb,mysql
create table if not exists invoice_line (
  id int unsigned not null auto_increment,
  invoice_no int not null comment 'parent # of it',
  item varchar(60), # the text
  amount decimal(10,2) default 1,
  vat tinyint(1),
  primary key using btree (id),
  index (invoice_no, item(8)),
  unique item_once (item, amount),
  constraint invoice_line_fk foreign key (invoice_no) references invoice (no)
) ${engine} default charset = utf8mb4;

-- changeset invoices:lines-2
alter table invoice_line
  add column position smallint not null default 0 after invoice_no,
  add column (note varchar(20), extra int),
  add key ix_position (position, invoice_no),
  add unique index ux_note (note),
  change column amount price decimal(10,2) not null,
  modify column vat decimal(4,2) not null first,
  drop index item_once,
  rename index invoice_no to ix_invoice_item,
  algorithm = copy, lock = shared;
create table invoice_line_copy like invoice_line;
create table invoice_old as select no, due, total from invoice where 1 = 0;
alter table invoice_old add primary key (no), add index ix_old_due (due);
rename table invoice_line_copy to line_copy, invoice_old to invoice_archive;
drop index ux_note on line_copy;
create or replace index ix_position on line_copy (extra);
create index if not exists ix_position on line_copy (note);
alter table invoice_archive drop primary key, drop column due, engine = InnoDB;

-- changeset invoices:lines-3 endDelimiter:// splitStatements:true
create procedure close_old(in p_before date)
begin
  declare v int default 0;
  create temporary table tmp_close (no int primary key);
  insert into tmp_close select no from invoice where due < p_before;
  if v = 0 then
    update invoice set paid_at = now() where no in (select no from tmp_close);
  end if;
  drop temporary table tmp_close;
end //
create trigger line_bi before insert on invoice_line for each row
begin
  set new.position = ifnull(new.position, 0) + 1;
end //
create index ix_total on invoice (total, currency) //

-- changeset invoices:lines-4
create table agent (
  code varchar(10) primary key,
  chief varchar(10) references agent (code),
  name varchar(40) unique key,
  rank int check (rank > 0),
  since year
);
-- rollback drop table agent;
-- changeset invoices:lines-5 failOnError:false
alter table agent add constraint agent_chief_fk foreign key agent_ix (chief) references agent (code);
-- changeset invoices:lines-6
alter table agent drop key name, add index ix_name (name), alter column since set default 2000;
alter table agent add index ix_since (since);
alter table customer drop index idx_full, drop column full_name;
alter table `customer` convert to character set utf8mb4;
alter table customer rename column given_name to first_name;
alter table agent order by code;
optimize table agent;
alter table agent rename to ship_agent;
truncate table line_copy;
drop table if exists nothing, line_nothing cascade;
-- changeset invoices:lines-7
-- the index made for the foreign key goes
create table remark (agent_code varchar(10), lang varchar(10), constraint remark_agent foreign key (agent_code) references ship_agent (code));
create fulltext index ft_remark on remark (agent_code);
