package dev.colonnade.finding;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collection;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/**
 * The identity of a finding across builds: made of the rule, the query or index, the table and the
 * columns; never of a line number or of a message, so that neither an edit elsewhere in the file
 * nor a better wording brings an accepted finding back.
 *
 * @param value lower-case hexadecimal digits
 */
public record Fingerprint(String value) implements Comparable<Fingerprint> {
  /**
   * The name under which reports carry the value. A change in what goes into it changes the version
   * at its end.
   */
  public static final String NAME = "colonnadeFinding/v1";

  private static final int DIGITS = 32;

  /** The fingerprint of what a rule finds in a query's use of a table. */
  public static Fingerprint ofQuery(
      String ruleId, Query query, Identifier table, Collection<Identifier> columns) {
    return of(ruleId, "query " + subject(query), table, columns);
  }

  /**
   * The fingerprint of what a rule finds in the schema.
   *
   * @param owner name of the index concerned
   */
  public static Fingerprint ofIndex(
      String ruleId, Identifier owner, Identifier table, Collection<Identifier> columns) {
    return of(ruleId, "index " + owner.folded(), table, columns);
  }

  /** The fingerprint of what a rule finds about a foreign key: a name is not always given. */
  public static Fingerprint ofForeignKey(
      String ruleId, Identifier table, Collection<Identifier> columns) {
    return of(ruleId, "foreign key", table, columns);
  }

  /** A statement of a file has its line for an id: its file and words stand in. */
  private static String subject(Query query) {
    if (query.text().source() != QuerySource.FILE) {
      return query.id();
    }
    String words = query.text().text().strip().replaceAll("\\s+", " ");
    return query.location().file() + " " + words.toLowerCase(Locale.ROOT);
  }

  private static Fingerprint of(
      String ruleId, String subject, Identifier table, Collection<Identifier> columns) {
    String parts =
        List.of(
                ruleId,
                subject,
                table.folded(),
                columns.stream().map(Identifier::folded).collect(Collectors.joining(",")))
            .stream()
            .collect(Collectors.joining("\n"));
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(parts.getBytes(StandardCharsets.UTF_8));
      return new Fingerprint(HexFormat.of().formatHex(digest).substring(0, DIGITS));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  @Override
  public int compareTo(Fingerprint other) {
    return value.compareTo(other.value);
  }

  @Override
  public String toString() {
    return value;
  }
}
