package dev.colonnade.query.derived;

import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The name of a repository method, taken apart (Spring Data Commons reference, "Defining query
 * methods" and "Repository query keywords"). A name without a subject is all conditions.
 *
 * @param verb what is done with the rows
 * @param distinct true where a row is given once
 * @param limit how many rows at most; empty where all
 * @param alternatives conditions that hold together, in alternatives; empty where there are none
 * @param orders the order, first item first
 */
record MethodName(
    Verb verb,
    boolean distinct,
    OptionalInt limit,
    List<List<Condition>> alternatives,
    List<Order> orders) {
  private static final Pattern SUBJECT =
      Pattern.compile(
          "^(find|read|get|query|search|stream|count|exists|delete|remove)(\\p{Lu}.*?)??By");
  private static final Pattern LIMIT =
      Pattern.compile("^(?:Distinct)?(?:First|Top)(\\d*)(?:\\p{Lu}.*)?$");
  private static final Pattern ALL_IGNORE_CASE = Pattern.compile("AllIgnor(?:ing|e)Case");
  private static final Pattern IGNORE_CASE = Pattern.compile("Ignor(?:ing|e)Case");
  private static final Pattern BETWEEN_ORDERS = Pattern.compile("(?<=Asc|Desc)(?=\\p{Lu})");
  private static final Pattern ORDER = Pattern.compile("(.+?)(Asc|Desc)?$");

  /** What is done with the rows. */
  enum Verb {
    FIND,
    COUNT,
    EXISTS,
    DELETE;

    private static Verb of(String word) {
      return switch (word) {
        case "count" -> COUNT;
        case "exists" -> EXISTS;
        case "delete", "remove" -> DELETE;
        default -> FIND;
      };
    }
  }

  /** Whether capitals and small letters are the same. */
  enum Case {
    KEPT,
    IGNORED,
    IGNORED_IN_TEXT
  }

  /** One condition. */
  record Condition(AttributePath path, Operator operator, Case letters) {}

  /** One item of the order. */
  record Order(AttributePath path, boolean descending) {}

  MethodName {
    alternatives = alternatives.stream().map(List::copyOf).toList();
    orders = List.copyOf(orders);
  }

  /** True where the name has a subject: {@code findBy}, {@code countDistinctBy}. */
  static boolean hasSubject(String name) {
    return SUBJECT.matcher(name).find();
  }

  /**
   * The parts of the name.
   *
   * @throws UnknownNameException where a word is no attribute
   */
  static MethodName read(String name, Entity entity, Mapping mapping) {
    Matcher matcher = SUBJECT.matcher(name);
    boolean found = matcher.find();
    Verb verb = found ? Verb.of(matcher.group(1)) : Verb.FIND;
    String subject = found && matcher.group(2) != null ? matcher.group(2) : "";
    String predicate = found ? name.substring(matcher.end()) : name;
    Matcher all = ALL_IGNORE_CASE.matcher(predicate);
    boolean allIgnoreCase = all.find();
    String rest = allIgnoreCase ? without(predicate, all) : predicate;
    List<String> clauses = split(rest, "OrderBy");
    if (clauses.size() > 2) {
      throw new UnknownNameException("the name holds more than one order");
    }
    Reader reader = new Reader(entity, mapping, allIgnoreCase);
    return new MethodName(
        verb,
        subject.contains("Distinct"),
        verb == Verb.FIND ? limit(subject) : OptionalInt.empty(),
        reader.alternatives(clauses.get(0)),
        clauses.size() == 2 ? reader.orders(clauses.get(1)) : List.of());
  }

  private static OptionalInt limit(String subject) {
    Matcher matcher = LIMIT.matcher(subject);
    if (!matcher.matches()) {
      return OptionalInt.empty();
    }
    try {
      return OptionalInt.of(matcher.group(1).isEmpty() ? 1 : Integer.parseInt(matcher.group(1)));
    } catch (NumberFormatException e) {
      throw new UnknownNameException(matcher.group(1) + " is too large a number of rows");
    }
  }

  private static String without(String text, Matcher found) {
    return text.substring(0, found.start()) + text.substring(found.end());
  }

  /** Cut where the word is followed by a capital or a letter beyond ASCII. */
  private static List<String> split(String text, String word) {
    return List.of(text.split(word + "(?=\\p{Lu}|\\P{InBASIC_LATIN})"));
  }

  private record Reader(Entity entity, Mapping mapping, boolean allIgnoreCase) {
    List<List<Condition>> alternatives(String text) {
      List<List<Condition>> result = new ArrayList<>();
      for (String alternative : split(text, "Or")) {
        List<Condition> conditions = new ArrayList<>();
        for (String condition : split(alternative, "And")) {
          if (!condition.isEmpty()) {
            conditions.add(condition(condition));
          }
        }
        if (!conditions.isEmpty()) {
          result.add(conditions);
        }
      }
      return result;
    }

    private Condition condition(String written) {
      Matcher matcher = IGNORE_CASE.matcher(written);
      boolean ignoreCase = matcher.find();
      Operator.Split split = Operator.split(ignoreCase ? without(written, matcher) : written);
      Case letters = ignoreCase ? Case.IGNORED : allIgnoreCase ? Case.IGNORED_IN_TEXT : Case.KEPT;
      return new Condition(path(split.attribute()), split.operator(), letters);
    }

    List<Order> orders(String text) {
      List<Order> result = new ArrayList<>();
      for (String item : BETWEEN_ORDERS.split(text, -1)) {
        Matcher matcher = ORDER.matcher(item);
        if (!matcher.find()) {
          throw new UnknownNameException(item + " is no order");
        }
        result.add(new Order(path(matcher.group(1)), "Desc".equals(matcher.group(2))));
      }
      return result;
    }

    private AttributePath path(String words) {
      return AttributePath.find(words, entity, mapping)
          .orElseThrow(
              () ->
                  new UnknownNameException(
                      entity.name() + " has no attribute that " + words + " stands for"));
    }
  }
}
