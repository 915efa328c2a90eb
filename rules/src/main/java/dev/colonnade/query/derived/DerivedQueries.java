package dev.colonnade.query.derived;

import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Turns names of Spring Data's repository methods into JPQL (Spring Data Commons reference,
 * "Defining query methods").
 *
 * <p>Patterns are written out where Spring Data puts the wildcards into the value: {@code
 * StartingWith} becomes {@code like concat(?1, '%')}, so that a pattern which begins with a
 * wildcard can be told from one that does not.
 */
public final class DerivedQueries {
  private static final Pattern METHOD =
      Pattern.compile(
          "(find|read|get|query|search|stream|count|exists|delete|remove)(\\p{Lu}.*?)??By(\\p{Lu}.*)?");
  private static final Pattern LIMIT =
      Pattern.compile("(?:Distinct)?(?:First|Top)(\\d*)(?:\\p{Lu}.*)?");
  private static final Pattern ALL_IGNORE_CASE = Pattern.compile("AllIgnor(?:ing|e)Case");
  private static final Pattern IGNORE_CASE = Pattern.compile("Ignor(?:ing|e)Case");
  private static final Pattern ORDER =
      Pattern.compile("(?<path>.+?)(?<direction>Asc|Desc)?(?:$|(?<=Asc|Desc)(?=\\p{Lu}))");

  private final Mapping mapping;

  /** Names are looked up among the attributes of these entities. */
  public DerivedQueries(Mapping mapping) {
    this.mapping = mapping;
  }

  /** True where the name has the form of a query. */
  public static boolean isDerived(String name) {
    return METHOD.matcher(name).matches();
  }

  /** The query of a method of a repository of the entity. */
  public DerivedResult read(MethodSignature method, Entity entity) {
    Matcher matcher = METHOD.matcher(method.name());
    if (!matcher.matches()) {
      return new DerivedResult.NotUnderstood("the name is not of the form of a query");
    }
    try {
      String subject = matcher.group(2) == null ? "" : matcher.group(2);
      String predicate = matcher.group(3) == null ? "" : matcher.group(3);
      return new Reading(method, entity, matcher.group(1), subject).read(predicate);
    } catch (UnknownNameException e) {
      return new DerivedResult.NotUnderstood(e.getMessage());
    }
  }

  /** A name in the method's name that is no attribute, or a word that has no JPQL. */
  private static final class UnknownNameException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    UnknownNameException(String message) {
      super(message, null, false, false);
    }
  }

  private final class Reading {
    private final MethodSignature method;
    private final Entity entity;
    private final String verb;
    private final boolean distinct;
    private final Optional<Integer> limit;
    private final PathWriter paths = new PathWriter(mapping);
    private int parameters;

    Reading(MethodSignature method, Entity entity, String verb, String subject) {
      this.method = method;
      this.entity = entity;
      this.verb = verb;
      this.distinct = subject.contains("Distinct");
      Matcher matcher = LIMIT.matcher(subject);
      this.limit =
          matcher.matches()
              ? Optional.of(matcher.group(1).isEmpty() ? 1 : Integer.parseInt(matcher.group(1)))
              : Optional.empty();
    }

    DerivedResult read(String predicate) {
      Matcher all = ALL_IGNORE_CASE.matcher(predicate);
      boolean allIgnoreCase = all.find();
      String rest = allIgnoreCase ? all.replaceAll("") : predicate;
      int order = rest.lastIndexOf("OrderBy");
      boolean ordered = order >= 0 && order + 7 < rest.length();
      String conditions = ordered ? rest.substring(0, order) : rest;
      String where = where(conditions, allIgnoreCase);
      String orderBy = ordered ? " order by " + order(rest.substring(order + 7)) : "";
      if (parameters > method.values()) {
        throw new UnknownNameException(
            "the name needs " + parameters + " values, the method has " + method.values());
      }
      String from = " from " + entity.name() + " e" + paths.joins() + where;
      String counted = "select count(" + (distinct ? "distinct " : "") + "e)" + from;
      return new DerivedResult.Understood(
          switch (verb) {
            case "count" -> counted;
            case "exists" -> "select id(e)" + from + " limit 1";
            default -> select() + from + orderBy + limit();
          },
          counted);
    }

    private String select() {
      String items =
          method.projection().isEmpty()
              ? "e"
              : String.join(", ", method.projection().stream().map(it -> "e." + it).toList());
      return "select " + (distinct ? "distinct " : "") + items;
    }

    private String limit() {
      if (limit.isPresent()) {
        return " limit " + limit.get();
      }
      return method.pageable() ? " limit :pageSize offset :pageOffset" : "";
    }

    private String where(String conditions, boolean allIgnoreCase) {
      if (conditions.isEmpty()) {
        return "";
      }
      List<String> alternatives = new ArrayList<>();
      for (String alternative : parts(conditions, "Or")) {
        List<String> terms = new ArrayList<>();
        for (String term : parts(alternative, "And")) {
          terms.add(condition(term, allIgnoreCase));
        }
        alternatives.add(String.join(" and ", terms));
      }
      return " where " + String.join(" or ", alternatives);
    }

    private List<String> parts(String text, String word) {
      return List.of(text.split(word + "(?=\\p{Lu}|[^\\p{ASCII}])", -1)).stream()
          .filter(it -> !it.isEmpty())
          .toList();
    }

    private String condition(String written, boolean allIgnoreCase) {
      Matcher matcher = IGNORE_CASE.matcher(written);
      boolean ignoreCase = matcher.find();
      String term = ignoreCase ? matcher.replaceAll("") : written;
      Operator.Split split = Operator.split(term);
      if (AttributePath.find(split.attribute(), entity, mapping).isEmpty()) {
        split = new Operator.Split(term, Operator.EQUAL);
      }
      AttributePath path = path(split.attribute());
      boolean text = PathWriter.isText(path.last());
      boolean fold = text && (ignoreCase || allIgnoreCase);
      return Conditions.write(split.operator(), paths, path, fold, this::parameter)
          .orElseThrow(() -> new UnknownNameException(written + ": this condition has no JPQL"));
    }

    private AttributePath path(String words) {
      return AttributePath.find(words, entity, mapping)
          .orElseThrow(
              () ->
                  new UnknownNameException(
                      entity.name() + " has no attribute that " + words + " stands for"));
    }

    private String parameter() {
      return "?" + ++parameters;
    }

    private String order(String text) {
      List<String> items = new ArrayList<>();
      Matcher matcher = ORDER.matcher(text);
      while (matcher.find()) {
        String direction = matcher.group("direction");
        items.add(
            paths.value(path(matcher.group("path")))
                + (direction != null && direction.equals("Desc") ? " desc" : ""));
      }
      return String.join(", ", items);
    }
  }
}
