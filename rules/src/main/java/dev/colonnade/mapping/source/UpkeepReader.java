package dev.colonnade.mapping.source;

import dev.colonnade.mapping.CollectionTraits;
import dev.colonnade.mapping.Fetching;
import dev.colonnade.mapping.Fetching.Removal;
import dev.colonnade.mapping.Fetching.Style;
import dev.colonnade.mapping.Filter;
import dev.colonnade.mapping.KeyTable;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.SoftDelete;
import dev.colonnade.mapping.Upkeep;
import dev.colonnade.mapping.Upkeep.Compared;
import dev.colonnade.mapping.source.EntityClass.Layer;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.AnnotationValue;

/** Reads how rows of entities and collections are kept (Hibernate ORM user guide). */
final class UpkeepReader {
  private static final Set<String> ORDERED =
      Set.of("OrderColumn", "ListIndexBase", "IndexColumn", "CollectionId");

  private static final Optional<String> TABLE = Optional.of("TABLE");

  private final Reading reading;

  UpkeepReader(Reading reading) {
    this.reading = reading;
  }

  /** How an association is read; a reference at once unless it says otherwise. */
  Fetching fetching(Member member, AnnotationInstance association) {
    AnnotationTarget target = member.target();
    String kind = association.name().withoutPackagePrefix();
    String standard = kind.equals("ManyToOne") || kind.equals("OneToOne") ? "EAGER" : "LAZY";
    boolean eager =
        Marks.constant(association, "fetch").orElse(standard).equals("EAGER")
            || Marks.has(target, "NotFound");
    Style style = eager ? Style.JOIN : Style.SELECT;
    if (Marks.has(target, "BatchSize")) {
      style = eager ? Style.SELECT : Style.BATCH;
    }
    Optional<String> written =
        Marks.find(target, "Fetch").flatMap(it -> Marks.constant(it, "value"));
    if (written.isPresent()) {
      style = Style.valueOf(written.get());
      eager |= style == Style.JOIN;
    }
    return new Fetching(eager, style, removal(target, association));
  }

  /** Cascaded by the standard's word, by Hibernate's own one, or for those that leave. */
  private static Removal removal(AnnotationTarget target, AnnotationInstance association) {
    AnnotationValue orphans = association.value("orphanRemoval");
    AnnotationValue cascade = association.value("cascade");
    List<String> kinds = new ArrayList<>();
    if (cascade != null && cascade.kind() == AnnotationValue.Kind.ARRAY) {
      kinds.addAll(Arrays.asList(cascade.asEnumArray()));
    }
    Marks.find(target, "Cascade")
        .map(it -> it.value())
        .ifPresent(it -> kinds.addAll(Arrays.asList(it.asEnumArray())));
    if ((orphans != null && orphans.asBoolean()) || kinds.contains("DELETE_ORPHAN")) {
      return Removal.WHEN_LEFT;
    }
    return kinds.stream().anyMatch(Set.of("ALL", "REMOVE", "DELETE")::contains)
        ? Removal.WITH_OWNER
        : Removal.NEVER;
  }

  /**
   * How a collection is kept.
   *
   * @param elements the table that its elements lie in
   * @param between the table between, or that of the elements
   */
  CollectionTraits collection(
      Member member, AnnotationInstance annotation, Identifier elements, Identifier between) {
    AnnotationTarget target = member.target();
    boolean list =
        member.className().equals("java.util.List")
            || member.className().equals("java.util.Collection");
    boolean bag = list && ORDERED.stream().noneMatch(it -> Marks.has(target, it));
    List<Filter> filters = new ArrayList<>(filters(target, "Filter", isIn(elements)));
    filters.addAll(filters(target, "FilterJoinTable", isIn(between)));
    return new CollectionTraits(
        bag,
        fetching(member, annotation),
        Restrictions.ofJoinTable(target, isIn(between)),
        filters,
        Marks.find(target, "MapKey").map(it -> Marks.text(it, "name").orElse("")),
        sqlOrder(target).map(it -> SqlFragments.read(it, isIn(elements))),
        softDelete(target, between).or(() -> softDelete(declaring(target), between)));
  }

  /** Hibernate's own word for an order, under its name of today and the one of before. */
  static Optional<String> sqlOrder(AnnotationTarget target) {
    return Marks.text(Marks.find(target, "SQLOrder"), "value")
        .or(() -> Marks.text(Marks.find(target, "OrderBy"), "clause"));
  }

  private static AnnotationTarget declaring(AnnotationTarget member) {
    return member.kind() == AnnotationTarget.Kind.FIELD
        ? member.asField().declaringClass()
        : member.asMethod().declaringClass();
  }

  private Predicate<Identifier> isIn(Identifier table) {
    return name -> reading.mayHaveColumn(table, name);
  }

  /** How an entity's rows are kept. */
  Upkeep entity(EntityClass entity) {
    Map<String, Filter> filters = new LinkedHashMap<>();
    Optional<SoftDelete> softDelete = Optional.empty();
    boolean immutable = false;
    boolean batched = false;
    Optional<String> lock = Optional.empty();
    for (Layer layer : entity.layers) {
      Identifier table = entity.tableOf(layer);
      filters(layer.type(), "Filter", isIn(table)).forEach(it -> filters.put(it.name(), it));
      Optional<SoftDelete> own = softDelete(layer.type(), table);
      softDelete = own.isPresent() ? own : softDelete;
      immutable |= Marks.has(layer.type(), "Immutable");
      batched = Marks.has(layer.type(), "BatchSize");
      Optional<AnnotationInstance> locking = Marks.find(layer.type(), "OptimisticLocking");
      lock = locking.isPresent() ? locking.flatMap(it -> Marks.constant(it, "type")) : lock;
    }
    return new Upkeep(
        immutable,
        batched,
        marked(entity, "NaturalId").stream().map(Member::name).toList(),
        marked(entity, "TenantId").stream().map(it -> column(entity, it)).findFirst(),
        marked(entity, "PartitionKey").stream().map(it -> column(entity, it)).toList(),
        compared(lock.orElse("VERSION")),
        List.copyOf(filters.values()),
        softDelete,
        keyTable(entity),
        own(entity, "SQLUpdate"),
        own(entity, "SQLDelete"));
  }

  private static Compared compared(String type) {
    return switch (type) {
      case "ALL" -> Compared.ALL;
      case "DIRTY" -> Compared.CHANGED;
      default -> Compared.VERSION;
    };
  }

  private static Optional<String> own(EntityClass entity, String annotation) {
    return Marks.text(Marks.find(entity.type, annotation), "sql");
  }

  private static List<Member> marked(EntityClass entity, String annotation) {
    return entity.layers.stream()
        .flatMap(layer -> Members.of(layer.type(), entity.access, layer.arguments()).stream())
        .filter(member -> Marks.has(member.target(), annotation))
        .toList();
  }

  private MappedColumn column(EntityClass entity, Member member) {
    String name = Marks.text(Marks.find(member.target(), "Column"), "name").orElseGet(member::name);
    return new MappedColumn(entity.table(), reading.names.physical(name));
  }

  /** {@code @SoftDelete} on a class holds for the tables of the collections in it, too. */
  private Optional<SoftDelete> softDelete(AnnotationTarget target, Identifier table) {
    Optional<AnnotationInstance> mark = Marks.find(target, "SoftDelete");
    return mark.map(it -> softDelete(it, table));
  }

  private SoftDelete softDelete(AnnotationInstance mark, Identifier table) {
    String strategy = Marks.constant(mark, "strategy").orElse("DELETED");
    boolean active = strategy.equals("ACTIVE");
    String column = Marks.text(mark, "columnName").orElse(active ? "active" : "deleted");
    MappedColumn marked = new MappedColumn(table, reading.names.physical(column));
    if (strategy.equals("TIMESTAMP")) {
      return new SoftDelete(marked, Optional.empty(), Optional.empty());
    }
    String converter = Marks.type(mark, "converter").orElse("");
    List<String> no =
        switch (converter.substring(converter.lastIndexOf('.') + 1)) {
          case "YesNoConverter" -> List.of("'N'", "'Y'");
          case "TrueFalseConverter" -> List.of("'F'", "'T'");
          case "NumericBooleanConverter" -> List.of("0", "1");
          default -> List.of("false", "true");
        };
    return new SoftDelete(
        marked, Optional.of(no.get(active ? 1 : 0)), Optional.of(no.get(active ? 0 : 1)));
  }

  private List<Filter> filters(
      AnnotationTarget target, String single, Predicate<Identifier> isColumn) {
    List<Filter> result = new ArrayList<>();
    String container = single.equals("Filter") ? "Filters" : "FilterJoinTables";
    for (AnnotationInstance filter : Marks.all(target, single, container)) {
      String name = Marks.text(filter, "name").orElse("");
      Optional<AnnotationInstance> definition = definition(name);
      Optional<String> condition =
          Marks.text(filter, "condition").or(() -> Marks.text(definition, "defaultCondition"));
      condition.ifPresent(
          it ->
              result.add(
                  new Filter(
                      name,
                      SqlFragments.read(it, isColumn),
                      is(definition, "autoEnabled"),
                      is(definition, "applyToLoadByKey"))));
    }
    return result;
  }

  private static boolean is(Optional<AnnotationInstance> annotation, String attribute) {
    return annotation.map(it -> it.value(attribute)).filter(AnnotationValue::asBoolean).isPresent();
  }

  /** {@code @FilterDef} may stand at any class or package. */
  private Optional<AnnotationInstance> definition(String name) {
    return reading.filterDefinitions().stream()
        .filter(it -> Marks.text(it, "name").filter(name::equals).isPresent())
        .findFirst();
  }

  private Optional<KeyTable> keyTable(EntityClass entity) {
    for (Member member : marked(entity, "GeneratedValue")) {
      Optional<AnnotationInstance> value = Marks.find(member.target(), "GeneratedValue");
      Optional<String> generator = Marks.text(value, "generator");
      Optional<AnnotationInstance> own =
          Marks.find(member.target(), "TableGenerator")
              .or(() -> Marks.find(entity.type, "TableGenerator"));
      boolean byTable = value.flatMap(it -> Marks.constant(it, "strategy")).equals(TABLE);
      boolean named =
          generator.isEmpty() || Marks.text(own, "name").map(generator.get()::equals).orElse(true);
      if (own.isPresent() ? named : byTable && generator.isEmpty()) {
        return Optional.of(keyTable(own));
      }
    }
    return Optional.empty();
  }

  /** Hibernate's names where the annotation gives none ({@code TableGenerator}, its Javadoc). */
  private KeyTable keyTable(Optional<AnnotationInstance> mark) {
    return new KeyTable(
        reading.names.table(Marks.text(mark, "table").orElse("hibernate_sequences"), mark),
        reading.names.physical(Marks.text(mark, "pkColumnName").orElse("sequence_name")),
        reading.names.physical(Marks.text(mark, "valueColumnName").orElse("next_val")));
  }
}
