delete from quay where depth < 0
