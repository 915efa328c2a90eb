package dev.colonnade.query.source.mole;

import io.quarkus.hibernate.orm.panache.PanacheQuery;
import io.quarkus.panache.common.Page;
import io.quarkus.panache.common.Parameters;
import io.quarkus.panache.common.Sort;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/** Asks in every way that the guide shows. */
final class Mole {
  private final Ladders ladders = new Ladders();

  List<Mooring> attribute() {
    return Mooring.list("name", "north");
  }

  List<Mooring> truth() {
    return Mooring.list("taken");
  }

  List<Mooring> condition() {
    return Mooring.list("name = ?1 and depth > ?2", "north", 3);
  }

  List<Mooring> spaced() {
    return Mooring.list("name=?1", "north");
  }

  Stream<Mooring> streamed() {
    return Mooring.stream("name = ?1", Sort.by("depth").descending().and("id"), "north");
  }

  @SuppressWarnings("deprecation") // services call what is deprecated, too
  List<Mooring> sorted() {
    return Mooring.list(
        "taken = :taken",
        Sort.by("name", Sort.Direction.Descending).and("depth", Sort.NullPrecedence.NULLS_FIRST),
        Parameters.with("taken", true));
  }

  List<Mooring> mapped() {
    return Mooring.find("depth < :depth", Map.of("depth", 3)).list();
  }

  List<Mooring> ordered() {
    return Mooring.list("order by depth desc, name");
  }

  List<Mooring> whole() {
    return Mooring.list("select m from Mooring m where m.depth between ?1 and ?2", 3, 4);
  }

  List<Mooring> begun() {
    return Mooring.list("from Mooring where depth = 4 order by name");
  }

  List<Mooring> where() {
    return Mooring.list("where depth = 4");
  }

  List<Mooring> called() {
    return Mooring.list("#Mooring.deep", 4);
  }

  long number() {
    return Mooring.count("depth", 3);
  }

  long numberOfOrdered() {
    return Mooring.count("order by depth");
  }

  long all() {
    return Mooring.count();
  }

  List<Mooring> every() {
    return Mooring.listAll(Sort.ascending("name", "depth"));
  }

  PanacheQuery<Mooring> every2() {
    return Mooring.findAll(Sort.descending("name", "depth"));
  }

  long gone() {
    return Mooring.delete("name", "east");
  }

  long goneWhere() {
    return Mooring.delete("depth < ?1 and taken = false", 3);
  }

  long cleared() {
    return Mooring.deleteAll();
  }

  int changed() {
    return Mooring.update("depth = 4 where name = ?1", "west");
  }

  int changedSet() {
    return Mooring.update("set depth = 4, taken = true where name = ?1", "west");
  }

  int changedFrom() {
    return Mooring.update("update from Mooring set depth = ?1 where name = ?2", 3, "west");
  }

  int changedAll() {
    return Mooring.update("depth", 4);
  }

  Optional<Mooring> first() {
    return Mooring.<Mooring>find("name", Sort.by("depth"), "north").firstResultOptional();
  }

  List<Mooring> page() {
    return Mooring.<Mooring>find("depth > ?1", Sort.by("id"), 3).page(Page.of(2, 10)).list();
  }

  long counted() {
    return Mooring.find("depth > ?1", Sort.by("id"), 3).count();
  }

  Mooring one(Long id) {
    return Mooring.findById(id);
  }

  void left(Mooring mooring) {
    mooring.delete();
  }

  List<Ladder> short2() {
    return ladders.list("rungs < 3");
  }

  List<Ladder> inherited() {
    return ladders.listAll();
  }

  List<Mooring> built(String order) {
    return Mooring.list("order by " + order);
  }
}
