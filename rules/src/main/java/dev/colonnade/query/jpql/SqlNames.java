package dev.colonnade.query.jpql;

import dev.colonnade.dialect.Word;
import dev.colonnade.dialect.Wording;
import dev.colonnade.predicate.Identifier;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;

/** Writes names as the database reads them, and makes aliases, no two alike in one statement. */
public final class SqlNames {
  private static final Pattern REGULAR = Pattern.compile("[A-Za-z_][A-Za-z0-9_$]*");

  /**
   * Words that at least one of the supported databases reserves; quoting too many does no harm.
   * From the manuals: SQL:2016 reserved words, H2 "Keywords", MySQL "Keywords and Reserved Words".
   */
  private static final Set<String> RESERVED =
      Set.copyOf(
          List.of(
              """
              add all alter analyze and any array as asc asymmetric authorization between both by case
              cast change check class column condition constraint create cross cube current
              current_date current_time current_timestamp current_user cursor database day declare
              default delete desc describe distinct drop each else end escape except exists explain
              false fetch final first for force foreign from full function grant group grouping groups
              having hour if ignore ilike in index inner insert intersect interval into is join key keys
              kill lateral leading left level like limit list localtime localtimestamp lock loop map
              match member merge minus minute mode month natural new not null object of offset on only
              option or order outer over partition percent primary procedure range rank read recursive
              references rename replace return revoke right rollup row rownum rows schema second select
              session session_user set show size some start symmetric sysdate system_user table then to
              top trailing trigger true type uescape uid union unique unknown update usage use user using
              value values version view when where window with write year
              """
                  .strip()
                  .split("\\s+")));

  private final Wording wording;
  private final Set<String> taken = new HashSet<>();

  /**
   * Names for one statement.
   *
   * @param database Liquibase's short name
   */
  public SqlNames(String database) {
    this.wording = Wording.of(database);
  }

  /** The name, with its schema if it has one, in quotes where it is reserved or irregular. */
  public String write(Identifier name) {
    return name.qualifier().map(schema -> part(schema) + ".").orElse("") + part(name.unqualified());
  }

  private String part(Identifier name) {
    String text = name.text();
    boolean regular = REGULAR.matcher(text).matches();
    if (regular && !RESERVED.contains(name.folded())) {
      return text;
    }
    Optional<Boolean> up = regular ? wording.foldsUp() : Optional.empty();
    String folded =
        up.map(it -> it ? text.toUpperCase(Locale.ROOT) : text.toLowerCase(Locale.ROOT))
            .orElse(text);
    return wording.of(Word.QUOTE_OPEN) + folded + wording.of(Word.QUOTE_CLOSE);
  }

  /** An alias like the wished one. */
  String alias(String wished) {
    String base = wished.replaceAll("[^A-Za-z0-9_]", "_");
    if (base.isEmpty() || !Character.isLetter(base.charAt(0)) || isReserved(base)) {
      base = "t_" + base;
    }
    String alias = base;
    for (int i = 2; !taken.add(alias.toLowerCase(Locale.ROOT)); i++) {
      alias = base + "_" + i;
    }
    return alias;
  }

  static boolean isReserved(String word) {
    return RESERVED.contains(word.toLowerCase(Locale.ROOT));
  }
}
