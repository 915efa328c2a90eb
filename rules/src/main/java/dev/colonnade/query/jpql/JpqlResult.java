package dev.colonnade.query.jpql;

import java.util.List;

/** What became of a query over entities. */
public sealed interface JpqlResult {
  /**
   * It was translated.
   *
   * @param sql one statement over the tables, in the database's own words
   * @param further more statements that the same change leads to, where rows lie in several tables
   * @param filtered the same under filters that a session can switch on, where they change it
   */
  record Translated(String sql, List<String> further, List<Translated> filtered)
      implements JpqlResult {
    /** Copies the lists. */
    public Translated {
      further = List.copyOf(further);
      filtered = List.copyOf(filtered);
    }

    /** A statement that no filter would change. */
    public Translated(String sql, List<String> further) {
      this(sql, further, List.of());
    }
  }

  /**
   * It was not.
   *
   * @param reason why, one sentence without full stop
   * @param line line of the text, counted from 1
   * @param column column of the text, counted from 1
   */
  record NotTranslated(String reason, int line, int column) implements JpqlResult {}
}
