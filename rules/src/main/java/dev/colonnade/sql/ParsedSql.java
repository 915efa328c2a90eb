package dev.colonnade.sql;

import java.util.List;
import net.sf.jsqlparser.statement.Statement;

/**
 * The statements of a text.
 *
 * @param placeholders what was put in place of the author's placeholders
 */
public record ParsedSql(List<Statement> statements, Placeholders placeholders) {
  /** Copies the list. */
  public ParsedSql {
    statements = List.copyOf(statements);
  }
}
