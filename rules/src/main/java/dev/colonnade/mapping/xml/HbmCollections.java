package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import dev.colonnade.classfile.ClassAddition.Member;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads the collections of an {@code hbm.xml}. */
final class HbmCollections {
  private final HbmFile file;
  private final String owner;
  private final HbmMembers members;

  HbmCollections(HbmFile file, String owner, HbmMembers members) {
    this.file = file;
    this.owner = owner;
    this.members = members;
  }

  /** The annotations of a collection. */
  Member read(XmlElement collection) {
    List<AddedAnnotation> result = new ArrayList<>();
    Optional<XmlElement> written = collection.first("key");
    List<AddedAnnotation> key =
        HbmColumns.joinColumns(
            written.map(HbmColumns::names).orElse(List.of()),
            Optional.empty(),
            written
                .flatMap(it -> it.attribute("property-ref"))
                .map(it -> file.columnsOf(owner, it))
                .orElse(List.of()));
    for (XmlElement element : collection.children()) {
      switch (element.name()) {
        case "one-to-many" -> {
          result.add(
              Marking.of("OneToMany")
                  .type("targetEntity", target(element))
                  .fetched(collection)
                  .done());
          result.addAll(Marking.contained("JoinColumns", key));
        }
        case "many-to-many" -> {
          result.add(
              Marking.of("ManyToMany")
                  .type("targetEntity", target(element))
                  .fetched(collection)
                  .done());
          List<AddedAnnotation> toTarget =
              HbmColumns.joinColumns(HbmColumns.names(element), Optional.empty());
          result.add(
              file.table("JoinTable", collection)
                  .list("joinColumns", key)
                  .list("inverseJoinColumns", toTarget)
                  .done());
        }
        case "element" -> {
          result.add(values(collection, key, result, HbmColumns.javaType(element)));
          HbmColumns.names(element).stream()
              .findFirst()
              .ifPresent(it -> result.add(HbmColumns.column(it, Optional.empty())));
          result.addAll(HbmColumns.type(element, "Enumerated"));
        }
        case "composite-element" -> {
          result.add(
              values(collection, key, result, element.attribute("class").map(file::className)));
          result.addAll(members.component(element));
        }
        case "many-to-any" -> result.add(Marking.hibernate("ManyToAny").done());
        case "list-index", "index" -> index(collection, element, result);
        case "map-key" ->
            result.add(
                Marking.of("MapKeyColumn")
                    .with("name", HbmColumns.names(element).stream().findFirst())
                    .done());
        case "map-key-many-to-many", "index-many-to-many" ->
            result.add(
                Marking.of("MapKeyJoinColumn")
                    .with("name", HbmColumns.names(element).stream().findFirst())
                    .done());
        default -> {}
      }
    }
    collection
        .attribute("where")
        .ifPresent(it -> result.add(Marking.hibernate("SQLRestriction").with("value", it).done()));
    order(collection).ifPresent(it -> result.add(Marking.of("OrderBy").with("value", it).done()));
    result.addAll(file.filters(collection));
    return new Member(result, Optional.empty(), Optional.empty());
  }

  /**
   * The order of a collection of entities, which the file gives in columns, in properties: empty
   * where it has none or one that is no list of columns.
   */
  private Optional<String> order(XmlElement collection) {
    Optional<String> written = collection.attribute("order-by");
    Optional<String> target =
        collection
            .first("one-to-many")
            .or(() -> collection.first("many-to-many"))
            .flatMap(this::target);
    if (written.isEmpty() || target.isEmpty()) {
      return Optional.empty();
    }
    List<String> items = new ArrayList<>();
    for (String item : written.get().split(",", -1)) {
      String[] words = item.strip().split("\\s+", 2);
      Optional<String> property = file.propertyOf(target.get(), words[0]);
      if (property.isEmpty()) {
        file.problem(
            collection,
            "the order of "
                + collection.attribute("name").orElse("a collection")
                + " is not read: "
                + written.get());
        return Optional.empty();
      }
      items.add(property.get() + (words.length > 1 ? " " + words[1] : ""));
    }
    return Optional.of(String.join(", ", items));
  }

  private Optional<String> target(XmlElement element) {
    return element.attribute("class").map(file::className);
  }

  /** Adds the mark of a collection of values and gives its table. */
  private AddedAnnotation values(
      XmlElement collection,
      List<AddedAnnotation> key,
      List<AddedAnnotation> result,
      Optional<String> elementClass) {
    result.add(Marking.of("ElementCollection").type("targetClass", elementClass).done());
    return file.table("CollectionTable", collection).list("joinColumns", key).done();
  }

  private static void index(
      XmlElement collection, XmlElement element, List<AddedAnnotation> result) {
    Optional<String> column = HbmColumns.names(element).stream().findFirst();
    String mark = collection.name().equals("map") ? "MapKeyColumn" : "OrderColumn";
    result.add(Marking.of(mark).with("name", column).done());
  }
}
