package dev.colonnade.query.jpql.yard;

import jakarta.persistence.CascadeType;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToMany;
import java.io.Serializable;
import java.util.Objects;
import java.util.Set;
import org.hibernate.annotations.Immutable;
import org.hibernate.annotations.PartitionKey;
import org.hibernate.annotations.TenantId;

/** A table for each class. */
@Entity
@Inheritance(strategy = InheritanceType.TABLE_PER_CLASS)
public abstract class Load {
  @Id public Long id;
  public Integer tons;

  @ManyToOne(fetch = FetchType.LAZY)
  public Truck truck;

  @ElementCollection public Set<String> labels;

  /** Poured. */
  @Entity
  public static class Bulk extends Load {
    public String material;
  }

  /** In pieces. */
  @Entity
  public static class Parcel extends Load {
    public Integer pieces;
  }

  /** Known by a load and a number. */
  @Entity
  @IdClass(Line.Key.class)
  public static class Line {
    @Id
    @ManyToOne(fetch = FetchType.LAZY)
    public Truck truck;

    @Id public int number;
    public String text;

    @OneToMany(mappedBy = "line", cascade = CascadeType.ALL)
    public Set<Weighing> weighings;

    /** The identifier. */
    public static class Key implements Serializable {
      private static final long serialVersionUID = 1L;

      public Long truck;
      public int number;

      @Override
      public boolean equals(Object other) {
        return other instanceof Key key && number == key.number && Objects.equals(truck, key.truck);
      }

      @Override
      public int hashCode() {
        return Objects.hash(truck, number);
      }
    }
  }

  /** Never changed, and kept in parts. */
  @Entity
  public static class Weighing {
    @Id public Long id;
    @PartitionKey public Integer season;
    public Integer kilos;

    @ManyToOne(fetch = FetchType.LAZY)
    public Line line;
  }

  /** Never changed. */
  @Entity
  @Immutable
  public static class Reading {
    @Id public Long id;
    public Integer degrees;
  }

  /** Each tenant sees its own. */
  @Entity
  public static class Memo {
    @Id public Long id;
    @TenantId public String tenant;
    public String text;
  }
}
