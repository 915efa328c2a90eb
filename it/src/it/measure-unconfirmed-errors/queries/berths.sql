select id, length from berth where pier_id = ? and length >= ?;
