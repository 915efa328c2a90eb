-- What accounts runs at the end of a month.

-- Fees of the month that no invoice holds yet.
select f.berth_id, f.kind, sum(f.amount)
from harbour_fee f
where f.invoice_id is null
  and f.charged_on >= :month_start
  and f.charged_on < :month_end
group by f.berth_id, f.kind;

-- What each owner still owes.
with open_invoice as (
  select booking_id, sum(total) as owed
  from invoice
  where status = 'OPEN'
  group by booking_id
)
select v.owner, sum(o.owed)
from open_invoice o
join booking b on b.id = o.booking_id
join vessel v on v.id = b.vessel_id
group by v.owner;

-- The ledger of a vessel.
select berth_id, pilot_id, status, arrival, departure, cargo, note
from booking
where vessel_id = :vessel;

-- Old mooring records go.
delete from mooring
where booking_id in (select id from booking where departure < :oldest);

-- The month of one pilot.
select b.reference, b.arrival, b.departure
from booking b
join pilot p on p.id = b.pilot_id
where p.licence = 4711;

-- Drafts that nobody sent go.
delete from invoice
where status = 'DRAFT' and due_on < :oldest;
