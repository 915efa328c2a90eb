package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;

/** Takes over the queries that were written for repositories when the service was compiled. */
final class GeneratedQueries {
  private final ClassFiles classes;
  private final MicronautQueries micronaut;
  private final Places places;
  private final QueryIds ids;
  private final WrittenQueries written;
  private final Set<DotName> repositories = new HashSet<>();
  private final List<NotUnderstood> unreadable = new ArrayList<>();

  GeneratedQueries(ClassFiles classes, Places places, QueryIds ids, WrittenQueries written) {
    this.classes = classes;
    this.micronaut = new MicronautQueries(classes);
    this.places = places;
    this.ids = ids;
    this.written = written;
  }

  /** True for a repository whose queries were written, so that none is to be derived. */
  boolean has(ClassInfo repository) {
    return repositories.contains(repository.name());
  }

  /** Generated classes that are not understood. */
  List<NotUnderstood> unreadable() {
    return List.copyOf(unreadable);
  }

  /** Reads a class, where it was generated for a repository. */
  void read(ClassFile file) {
    Optional<ClassFile> repository = micronaut.repository(file.info());
    if (repository.isEmpty() || !micronaut.isRepository(repository.get().info())) {
      return;
    }
    try {
      Optional<List<MicronautQueries.Written>> found = micronaut.read(file);
      if (found.isPresent()) {
        repositories.add(repository.get().info().name());
        found.get().forEach(query -> add(query, repository.get()));
      } else {
        tell(file, MicronautQueries.NOT_UNDERSTOOD);
      }
    } catch (IOException e) {
      tell(file, e.getMessage());
    }
  }

  private void tell(ClassFile file, String reason) {
    unreadable.add(new NotUnderstood(SourceLocation.of(file.file()), reason));
  }

  private void add(MicronautQueries.Written query, ClassFile repository) {
    Optional<ClassFile> declaring = classes.file(DotName.createSimple(query.declared()));
    Optional<MethodInfo> method =
        declaring.flatMap(it -> MicronautQueries.method(it.info(), query));
    boolean inserts = query.text().strip().regionMatches(true, 0, "insert", 0, 6);
    if (method.filter(MicronautQueries::isText).isPresent() || (method.isEmpty() && inserts)) {
      return;
    }
    SourceLocation location =
        method.isPresent() ? places.of(declaring.get(), method.get()) : places.of(repository);
    QuerySource source =
        method.isPresent() ? QuerySource.METHOD_NAME : QuerySource.INHERITED_METHOD;
    String id = ids.unique(Places.idOf(repository.info()) + "." + query.method());
    boolean sql = micronaut.isSql(repository.info());
    written.generated(id, location, source, query.text(), sql, query.isPaged());
    query
        .count()
        .ifPresent(
            it -> written.generated(id + "#count", location, source, it, sql, /* paged= */ false));
  }
}
