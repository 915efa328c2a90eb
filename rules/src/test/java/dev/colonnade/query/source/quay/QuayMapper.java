package dev.colonnade.query.source.quay;

import java.sql.ResultSet;
import java.sql.SQLException;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.statement.StatementContext;

/** Reads a row. */
public final class QuayMapper implements RowMapper<Quay> {
  @Override
  public Quay map(ResultSet rows, StatementContext context) throws SQLException {
    Quay quay = new Quay();
    quay.setId(rows.getLong("id"));
    return quay;
  }
}
