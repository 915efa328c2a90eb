-- liquibase formatted sql
-- changeset c:v_b runOnChange:true
create or replace view v_rate as select code, price from RATE;
-- rollback drop view v_rate;
