-- the deepest first
select q.id, q.name
from quay q
where q.depth = (select max(k.depth) from quay k)
order by q.id
