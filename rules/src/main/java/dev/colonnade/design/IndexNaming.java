package dev.colonnade.design;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.KeyColumn;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.zip.CRC32;

/**
 * Names for proposed indexes: table, key columns, {@code ix}; the same columns always get the same
 * name.
 */
public final class IndexNaming {
  /**
   * Longest name that every supported database takes in a version that its maker still supports: 63
   * bytes in PostgreSQL, 64 in MySQL, more elsewhere; Oracle up to 12.1 took 30 (from memory).
   */
  private static final int LONGEST = 60;

  private IndexNaming() {}

  /** The name for an index with this key. */
  public static String name(Identifier table, List<KeyColumn> key, List<Identifier> included) {
    StringBuilder name = new StringBuilder(table.folded());
    for (KeyColumn part : key) {
      name.append('_').append(part.value().render().toLowerCase(Locale.ROOT));
      if (part.descending()) {
        name.append("_desc");
      }
    }
    included.forEach(column -> name.append('_').append(column.folded()));
    String plain = (name + "_ix").replaceAll("[^a-z0-9]+", "_");
    if (plain.length() <= LONGEST) {
      return plain;
    }
    CRC32 checksum = new CRC32();
    checksum.update(plain.getBytes(StandardCharsets.UTF_8));
    String tail = String.format(Locale.ROOT, "_%08x_ix", checksum.getValue());
    return plain.substring(0, LONGEST - tail.length()) + tail;
  }
}
