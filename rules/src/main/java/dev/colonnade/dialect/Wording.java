package dev.colonnade.dialect;

import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How a database writes what SQL is to say. Forms follow the database's manual and, where it leaves
 * a choice, the dialect class of Hibernate ORM 7.4; {@link WordingByDatabase} names both.
 *
 * @param foldsUp true where unquoted names are kept in capitals, false where in small letters;
 *     empty where case does not matter or stays
 * @param nullsLow true where missing values come before all others, false where behind them; told
 *     only of databases on which an order that says so costs a further term
 * @param forms the form of each word; none where the database cannot say it
 */
public record Wording(
    Optional<Boolean> foldsUp, Optional<Boolean> nullsLow, Map<Word, String> forms) {
  private static final Pattern PART = Pattern.compile("\\$(\\d)");

  /** Copies the map. */
  public Wording {
    forms = Map.copyOf(forms);
  }

  /** The wording of a database, by Liquibase's short name; the standard's for one not known. */
  public static Wording of(String shortName) {
    return WordingByDatabase.of(shortName);
  }

  /** The form with its parts filled in; empty where the database cannot say it. */
  public Optional<String> tryOf(Word word, String... parts) {
    return Optional.ofNullable(forms.get(word))
        .map(
            form ->
                PART.matcher(form)
                    .replaceAll(
                        found ->
                            Matcher.quoteReplacement(parts[Integer.parseInt(found.group(1))])));
  }

  /** The form with its parts filled in, of a word that every database knows. */
  public String of(Word word, String... parts) {
    return tryOf(word, parts).orElseThrow(() -> new IllegalStateException("no form for " + word));
  }
}
