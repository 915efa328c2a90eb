-- What the harbour office prints every morning.

-- Arrivals of the day with berth and pilot.
select b.reference, v.name, v.length_m, v.draught_m, be.code, p.name as pilot
from booking b
join vessel v on v.id = b.vessel_id
join berth be on be.id = b.berth_id
left join pilot p on p.id = b.pilot_id
where b.arrival >= :day_start
  and b.arrival < :day_end
order by b.arrival;

-- Pilots on call.
select id, name, grade
from pilot
where active = true
order by grade desc, name;

-- Latest departures of a berth.
select reference, departure
from booking
where berth_id = :berth
order by departure desc
limit 10;

-- Movements: who made fast and who cast off.
select booking_id, made_fast_at as moved_at, 'IN' as direction
from mooring
where made_fast_at >= :day_start and made_fast_at < :day_end
union all
select booking_id, cast_off_at, 'OUT'
from mooring
where cast_off_at >= :day_start and cast_off_at < :day_end;
