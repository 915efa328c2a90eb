package dev.colonnade.schema.liquibase;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import liquibase.Scope;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.exception.ChangeLogParseException;

/**
 * What one reading of changelogs knows while Liquibase's parsers run. It lies in Liquibase's scope;
 * our parsers take part only where there is one, so that other users of the same class loader see
 * Liquibase's own.
 */
final class ReadSession {
  /** The name of the scope value. */
  static final String SCOPE_KEY = "dev.colonnade.readSession";

  private static final Pattern LINE = Pattern.compile("\\bline:? (\\d+)(?:,? column:? (\\d+))?");
  private static final Pattern NOT_FOUND =
      Pattern.compile("The file (.+?) was not found|^(.+?) does not exist");

  private final RootsAccessor accessor;
  private final List<String> open = new ArrayList<>();
  private final List<NotUnderstood> notUnderstood = new ArrayList<>();
  private final Map<String, Mark> includes = new HashMap<>();
  private final Set<String> withoutValue = new HashSet<>();
  private final List<String> unplaced = new ArrayList<>();
  private Optional<ChangelogException> failure = Optional.empty();

  ReadSession(RootsAccessor accessor) {
    this.accessor = accessor;
  }

  static Optional<ReadSession> current() {
    return Optional.ofNullable(Scope.getCurrentScope().get(SCOPE_KEY, ReadSession.class));
  }

  RootsAccessor accessor() {
    return accessor;
  }

  List<NotUnderstood> notUnderstood() {
    return notUnderstood;
  }

  Optional<ChangelogException> failure() {
    return failure;
  }

  SourceLocation place(String path, Mark mark) {
    return new SourceLocation(accessor.display(path), mark.line(), mark.column(), Optional.empty());
  }

  void note(String path, Mark mark, String reason) {
    notUnderstood.add(new NotUnderstood(place(path, mark), reason));
  }

  /**
   * Takes note of a parameter without a value, once for each changelog; at the line that has it, or
   * for {@link #takeUnplaced} where none does because another file has it.
   */
  void withoutValue(String path, String parameter) {
    if (!withoutValue.add(path + " " + parameter)) {
      return;
    }
    Optional<Mark> mark = mark(parameter, accessor.lines(path));
    if (mark.isPresent()) {
      noteWithoutValue(path, mark.get(), parameter);
    } else {
      unplaced.add(parameter);
    }
  }

  /** Gives the parameters that no line of their changelog had to the file that was read with it. */
  void takeUnplaced(String path) {
    for (String parameter : unplaced) {
      noteWithoutValue(path, mark(parameter, accessor.lines(path)).orElse(Mark.START), parameter);
    }
    unplaced.clear();
  }

  private void noteWithoutValue(String path, Mark mark, String parameter) {
    note(
        path,
        mark,
        "parameter "
            + parameter
            + " has no value: read as empty within a name, elsewhere as a word; set"
            + " changelogParameters");
  }

  private static Optional<Mark> mark(String parameter, String[] lines) {
    for (int i = 0; i < lines.length; i++) {
      int column = lines[i].indexOf("${" + parameter + "}");
      if (column >= 0) {
        return Optional.of(new Mark(i + 1, column + 1));
      }
    }
    return Optional.empty();
  }

  /** Takes note of where a changelog includes another. */
  void include(String from, String what, Mark mark) {
    includes.put(from + " " + RootsAccessor.normalize(what), mark);
  }

  /** One parser's work on one file. */
  interface Parsing {
    DatabaseChangeLog run() throws ChangeLogParseException;
  }

  /**
   * Runs a parser on a file, unless that file is being read already, and keeps the first failure.
   */
  DatabaseChangeLog parse(String path, Parsing parsing) throws ChangeLogParseException {
    String file = RootsAccessor.normalize(path);
    if (open.contains(file)) {
      List<String> cycle = new ArrayList<>(open.subList(open.indexOf(file), open.size()));
      cycle.add(file);
      fail(place(file, Mark.START), "changelog includes itself: " + String.join(" -> ", cycle));
      throw new ChangeLogParseException("changelog includes itself: " + file);
    }
    open.add(file);
    try {
      return parsing.run();
    } catch (ChangeLogParseException | RuntimeException e) {
      fail(file, e);
      throw e;
    } finally {
      open.remove(open.size() - 1);
    }
  }

  private void fail(SourceLocation location, String reason) {
    if (failure.isEmpty()) {
      failure = Optional.of(new ChangelogException(location, reason));
    }
  }

  /** Keeps a failure while reading a file, in one line and with the place that it names. */
  void fail(String file, Throwable cause) {
    String message = innermost(cause);
    Matcher missing = NOT_FOUND.matcher(message);
    if (missing.find()) {
      String what = missing.group(1) == null ? missing.group(2) : missing.group(1);
      Mark mark = mark(file, what);
      fail(place(file, mark), "cannot find " + what);
      return;
    }
    Matcher line = LINE.matcher(message);
    Mark mark = Mark.START;
    if (line.find()) {
      int column = line.group(2) == null ? 1 : Integer.parseInt(line.group(2));
      mark = new Mark(Math.max(1, Integer.parseInt(line.group(1))), Math.max(1, column));
    }
    fail(place(file, mark), message.replaceFirst("^line \\d+ column \\d+: ", ""));
  }

  private Mark mark(String file, String what) {
    String path = RootsAccessor.normalize(what);
    Mark exact = includes.get(file + " " + path);
    if (exact != null) {
      return exact;
    }
    String name = path.substring(path.lastIndexOf('/') + 1);
    return includes.entrySet().stream()
        .filter(entry -> entry.getKey().startsWith(file + " ") && entry.getKey().endsWith(name))
        .map(Map.Entry::getValue)
        .findFirst()
        .orElse(Mark.START);
  }

  private static String innermost(Throwable cause) {
    String message = "";
    for (Throwable t = cause; t != null && t != t.getCause(); t = t.getCause()) {
      if (t.getMessage() != null && !t.getMessage().isBlank()) {
        message = t.getMessage();
      }
    }
    if (message.isEmpty()) {
      message = cause.getClass().getSimpleName();
    }
    return message
        .replaceAll("\\s*\\R\\s*", " ")
        .replaceAll("^(?:[\\w.$]+(?:Exception|Error): )+", "")
        .replaceAll(" Learn all the options at \\S+$", "")
        .strip();
  }
}
