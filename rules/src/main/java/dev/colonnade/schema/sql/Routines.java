package dev.colonnade.schema.sql;

import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;

/** The routines defined so far whose bodies change tables or indexes. */
final class Routines {
  private static final Set<String> KINDS = Set.of("PROCEDURE", "PROC", "FUNCTION", "PACKAGE");

  private static final Pattern TEMPORARY =
      Pattern.compile(
          "(?is)\\b(?:create|drop)\\s+(?:global\\s+|local\\s+)?temp(?:orary)?\\s+table");

  private static final Pattern HASH_TABLE =
      Pattern.compile("(?is)\\b(?:create|drop|alter)\\s+table\\s+(?:if\\s+exists\\s+)?#");

  private final Set<String> changing = new HashSet<>();

  /** Takes note of a routine; false when the statement defines none. */
  boolean defines(List<SqlToken> tokens) {
    if (!tokens.get(0).is("CREATE") && !tokens.get(0).is("ALTER")) {
      return false;
    }
    for (int i = 1; i < Math.min(tokens.size() - 1, 10); i++) {
      if (tokens.get(i).is("TABLE") || tokens.get(i).is("(") || tokens.get(i).is("INDEX")) {
        return false;
      }
      if (KINDS.stream().anyMatch(tokens.get(i)::is)) {
        int name = i + 1;
        while (name < tokens.size() - 2 && tokens.get(name + 1).is(".")) {
          name += 2;
        }
        remember(tokens.get(name).text(), tokens.subList(name, tokens.size()));
        return true;
      }
    }
    return false;
  }

  private void remember(String name, List<SqlToken> body) {
    StringBuilder text = new StringBuilder();
    body.forEach(token -> text.append(token.text()).append(' '));
    String words = TEMPORARY.matcher(text).replaceAll(" ");
    words = HASH_TABLE.matcher(words).replaceAll(" ");
    if (DynamicSql.mayChangeTables(words)) {
      changing.add(name.toLowerCase(Locale.ROOT));
    }
  }

  /** The routine of those that the statement calls. */
  Optional<String> changingCall(List<SqlToken> tokens) {
    if (changing.isEmpty()) {
      return Optional.empty();
    }
    SqlToken first = tokens.get(0);
    boolean calls =
        first.is("CALL")
            || first.is("EXEC")
            || first.is("EXECUTE")
            || first.is("PERFORM")
            || first.is("SELECT")
            || (tokens.size() > 1 && tokens.get(1).is("("));
    return calls
        ? tokens.stream()
            .limit(12)
            .filter(SqlToken::isName)
            .map(token -> token.text().toLowerCase(Locale.ROOT))
            .filter(changing::contains)
            .findFirst()
        : Optional.empty();
  }
}
