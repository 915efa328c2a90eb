--liquibase formatted sql logicalFilePath:tides/removed

--changeset nils:removed-1 dbms:mariadb
drop index storm_peak_ix on gale;
--changeset nils:removed-2 dbms:!mariadb
drop index storm_peak_ix;
--changeset nils:removed-3
alter table gale drop column strength;
--changeset nils:removed-4 runWith:jdbc
--validCheckSum: ANY
--preconditions onFail:MARK_RAN
--precondition-table-exists table:gale
create index gale_name_ix on gale (name, peak);
--rollback not required
--changeset nils:removed-5
--preconditions onFail:MARK_RAN
--precondition-view-exists view:nothing
drop table gale;
