--liquibase formatted sql

--changeset harbour:17-invoices-due
-- Reminders go out by due date.
create index ix_invoice_status_due on invoice (status, due_on);
-- The list of large invoices that the old back office showed.
create index ix_invoice_total on invoice (total desc, due_on);
--rollback drop index ix_invoice_total;
--rollback drop index ix_invoice_status_due;

--changeset harbour:18-open-invoice-of-a-booking
create index ix_invoice_booking_open on invoice (booking_id) where status = 'OPEN';
--rollback drop index ix_invoice_booking_open;

--changeset harbour:19-booking-ledger
-- Everything that the monthly ledger prints.
create index ix_booking_ledger
    on booking (vessel_id, berth_id, pilot_id, status, arrival, departure, cargo, note);
--rollback drop index ix_booking_ledger;

--changeset harbour:20-booking-departures
-- The latest departures of a berth.
create index ix_booking_berth_departure on booking (berth_id, departure desc) include (reference);
--rollback drop index ix_booking_berth_departure;
