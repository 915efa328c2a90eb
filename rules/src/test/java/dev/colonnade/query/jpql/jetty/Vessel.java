package dev.colonnade.query.jpql.jetty;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.springframework.data.annotation.ReadOnlyProperty;
import org.springframework.data.annotation.Transient;
import org.springframework.data.jdbc.core.mapping.AggregateReference;
import org.springframework.data.relational.core.mapping.Column;
import org.springframework.data.relational.core.mapping.Embedded;
import org.springframework.data.relational.core.mapping.MappedCollection;

/** A vessel with all that belongs to it. */
public class Vessel extends Registered<Long> {
  static final String KIND = "vessel";
  String name;
  String callSign;
  Flag flag;
  boolean active;
  BigDecimal lengthMetres;

  @Column("GROSS_TONS")
  Integer tonnage;

  @Transient String label;
  @ReadOnlyProperty Integer visits;
  String[] formerNames;

  @Embedded.Nullable(prefix = "OWNER_")
  Owner owner;

  AggregateReference<Berth, Long> homeBerth;
  Insurance insurance;
  Set<Certificate> certificates;

  @MappedCollection(idColumn = "VESSEL_ID", keyColumn = "POSITION")
  List<Deck> decks;

  Map<String, Document> documents;

  /** One with a row in each table. */
  public static Vessel laden() {
    Vessel result = new Vessel();
    result.name = "Alma";
    result.flag = Flag.NORWAY;
    result.insurance = new Insurance("7", "Mutual");
    Certificate certificate = new Certificate();
    certificate.inspections = List.of(new Inspection(LocalDate.of(2026, 3, 1), "Berg"));
    result.certificates = Set.of(certificate);
    result.decks = List.of(new Deck("upper", Set.of(new Hatch("fore"))));
    result.documents = Map.of("crew", new Document("nine"));
    return result;
  }

  /** What identifies it. */
  public Long number() {
    return id;
  }

  /** Computed: no property. */
  public String getTitle() {
    return name + callSign;
  }
}
