package dev.colonnade.query.source;

import dev.colonnade.classfile.CallArgument;
import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.classfile.MethodCall;
import dev.colonnade.classfile.MethodCall.Callee;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.OpenTexts;
import dev.colonnade.query.mapper.SqlTemplates;
import dev.colonnade.query.source.Forwarders.Forwarder;
import dev.colonnade.query.source.QueryMethods.Language;
import dev.colonnade.query.source.SourceLocator.Place;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Finds queries whose texts are constants in method bodies, given to a query API directly or
 * through a method of the service that hands its parameter on. Where branches or parts that are
 * only known at run time make several texts, those are the query's variants; what cannot be known
 * of it is listed as not analysed. The statements of migrations run once and are left out, as are
 * statements that define tables or steer the session.
 *
 * <p>A query's id is that of the method, {@code package.Type.method}; further ones of the same
 * method, in the order of the code, are {@code package.Type.method~2} and so on.
 */
public final class BodyScanner {
  static final String AT_RUN_TIME = "text is built at run time";

  /** So many methods of the service may stand between a text and the query API. */
  private static final int HANDED_ON = 4;

  private static final Pattern HIBERNATE_SCHEMA =
      Pattern.compile("\\{h-(schema|catalog|domain)}\\.?");
  private static final Pattern NUMBERED = Pattern.compile("\\{(\\d+)}");
  private static final Set<String> MIGRATIONS =
      Set.of(
          "liquibase.change.custom.CustomChange",
          "liquibase.change.custom.CustomSqlChange",
          "liquibase.change.custom.CustomTaskChange",
          "org.flywaydb.core.api.migration.JavaMigration",
          "org.flywaydb.core.api.migration.BaseJavaMigration");

  private final Path baseDirectory;
  private final List<Path> sourceDirectories;

  /**
   * A scanner.
   *
   * @param baseDirectory what file names are relative to
   * @param sourceDirectories where the sources are looked up, in this order
   */
  public BodyScanner(Path baseDirectory, List<Path> sourceDirectories) {
    this.baseDirectory = baseDirectory;
    this.sourceDirectories = List.copyOf(sourceDirectories);
  }

  /**
   * The queries of every method body.
   *
   * @param classes the service's classes
   * @param mapping its entities
   * @param database Liquibase's short name of the database that SQL is written for
   */
  public FoundQueries scan(ClassFiles classes, Mapping mapping, String database) {
    return new Scan(classes, mapping, database).run();
  }

  /**
   * A text that was given to a query API, or the lack of it.
   *
   * @param argument what is known of the text
   */
  private record Found(ClassFile file, MethodCall call, Language language, CallArgument argument) {}

  private final class Scan {
    private final ClassFiles classes;
    private final Forwarders forwarders;
    private final EntityQueries entities;
    private final SourceLocator locator = new SourceLocator(baseDirectory, sourceDirectories);
    private final QueryIds ids = new QueryIds();
    private final List<QueryText> queries = new ArrayList<>();
    private final List<UnanalysedQuery> unanalysed = new ArrayList<>();
    private final Set<NotUnderstood> unreadable = new HashSet<>();
    private final Set<Forwarder> called = new HashSet<>();
    private int withoutText;

    Scan(ClassFiles classes, Mapping mapping, String database) {
      this.classes = classes;
      this.forwarders = new Forwarders(classes);
      this.entities = new EntityQueries(mapping, database, queries, unanalysed);
    }

    FoundQueries run() {
      List<Found> all = new ArrayList<>();
      List<Found> last = round(List.of());
      for (int i = 0; i < HANDED_ON && !last.isEmpty(); i++) {
        all.addAll(last);
        List<Forwarder> fresh = new ArrayList<>();
        for (Found found : last) {
          forwarder(found).filter(forwarders::add).ifPresent(fresh::add);
        }
        last = fresh.isEmpty() ? List.of() : round(fresh);
      }
      all.addAll(last);
      all.removeIf(found -> forwarder(found).filter(called::contains).isPresent());
      all.sort(
          Comparator.comparing((Found found) -> found.call().caller())
              .thenComparing(found -> found.call().callerMethod())
              .thenComparing(found -> found.call().line().orElse(0)));
      all.forEach(this::add);
      readPanache();
      return new FoundQueries(queries, unanalysed, List.copyOf(unreadable), withoutText);
    }

    /** The calls of the forwarders, or of the query APIs themselves. */
    private List<Found> round(List<Forwarder> fresh) {
      List<Found> result = new ArrayList<>();
      for (ClassFile file : classes.all()) {
        String name = file.info().name().toString();
        if (forwarders.supertypes(name).stream().anyMatch(MIGRATIONS::contains)) {
          continue;
        }
        try {
          for (MethodCall call : classes.calls(file, callee -> target(callee, fresh).isPresent())) {
            Forwarder target = target(call.callee(), fresh).orElseThrow();
            called.add(target);
            result.add(
                new Found(file, call, target.language(), call.arguments().get(target.argument())));
          }
        } catch (IOException e) {
          unreadable.add(new NotUnderstood(SourceLocation.of(file.file()), e.getMessage()));
        }
      }
      return result;
    }

    private Optional<Forwarder> target(Callee callee, List<Forwarder> fresh) {
      return fresh.isEmpty()
          ? QueryMethods.language(callee)
              .map(it -> new Forwarder(callee, QueryMethods.place(callee), it))
          : forwarders.of(callee).filter(fresh::contains);
    }

    private Optional<Forwarder> forwarder(Found found) {
      MethodCall call = found.call();
      return found.argument().parameter().isEmpty()
          ? Optional.empty()
          : Optional.of(
              new Forwarder(
                  new Callee(call.caller(), call.callerBody(), call.callerDescriptor()),
                  found.argument().parameter().getAsInt(),
                  found.language()));
    }

    private void add(Found found) {
      MethodCall call = found.call();
      SourceLocation location = location(found.file(), call);
      String id = ids.unique(name(call));
      if (found.argument().parameter().isPresent()) {
        withoutText++;
        unreadable.add(
            new NotUnderstood(
                location, "query " + id + " is passed in at run time: its text is not known"));
        return;
      }
      List<String> texts = found.argument().texts();
      if (texts.isEmpty()) {
        unanalysed.add(new UnanalysedQuery(id, location, AT_RUN_TIME + " in " + at(call)));
      }
      BuiltTexts built = BuiltTexts.of(QueryMethods.isJdbi(call) ? defined(texts, call) : texts);
      if (built.open()) {
        unanalysed.add(
            new UnanalysedQuery(
                id,
                location,
                MapperReader.OPEN_PART
                    + "a part of it is not known: the "
                    + AT_RUN_TIME
                    + " in "
                    + at(call)));
      }
      if (found.argument().cut()) {
        unreadable.add(
            new NotUnderstood(
                location,
                "query "
                    + id
                    + " can become more texts than the "
                    + built.texts().size()
                    + " that are looked at"));
      }
      boolean paged =
          call.followedBy().contains("setMaxResults")
              || call.followedBy().contains("setFirstResult");
      for (String text : built.texts()) {
        if (found.language() == Language.JPQL) {
          entities.written(
              id,
              new Place(location, OptionalInt.empty()),
              QuerySource.METHOD_BODY,
              OpenTexts.withParameters(text, ":text"),
              Optional.empty(),
              paged);
        } else if (!BuiltTexts.isNoQuery(text)) {
          queries.add(new QueryText(id, location, QuerySource.METHOD_BODY, text, sql(text)));
        }
      }
    }

    private static List<String> defined(List<String> texts, MethodCall call) {
      return texts.stream()
          .flatMap(text -> SqlTemplates.defined(text, call.defined(), "${text}").stream())
          .distinct()
          .toList();
    }

    /** Without what Hibernate and jOOQ put something else for: {@code {b.*}}, {@code {0}}. */
    private static String sql(String text) {
      String plain = HIBERNATE_SCHEMA.matcher(text).replaceAll("");
      return NUMBERED.matcher(MappingFileQueries.withoutBraces(plain)).replaceAll(":p$1");
    }

    private SourceLocation location(ClassFile file, MethodCall call) {
      Optional<String> source =
          call.sourceFile().flatMap(name -> locator.ofFile(call.caller(), name));
      return source.isPresent() && call.line().isPresent()
          ? SourceLocation.of(source.get(), call.line().getAsInt())
          : SourceLocation.of(source.orElse(file.file()));
    }

    /** Calls of Panache. */
    private void readPanache() {
      PanacheCalls panache = new PanacheCalls(classes, forwarders, entities, ids, unanalysed);
      for (ClassFile file : classes.all()) {
        try {
          List<MethodCall> calls = new ArrayList<>(classes.calls(file, panache::isRead));
          calls.sort(
              Comparator.comparing(MethodCall::callerMethod)
                  .thenComparing(call -> call.line().orElse(0)));
          for (MethodCall call : calls) {
            panache.add(call, name(call), location(file, call), at(call));
          }
        } catch (IOException e) {
          unreadable.add(new NotUnderstood(SourceLocation.of(file.file()), e.getMessage()));
        }
      }
    }

    private static String name(MethodCall call) {
      return call.caller().replace('$', '.') + "." + method(call.callerMethod());
    }

    private static String method(String name) {
      return switch (name) {
        case "<init>" -> "new";
        case "<clinit>" -> "static";
        default -> name;
      };
    }

    private static String at(MethodCall call) {
      String line = call.line().isPresent() ? ":" + call.line().getAsInt() : "";
      return call.caller() + line;
    }
  }
}
