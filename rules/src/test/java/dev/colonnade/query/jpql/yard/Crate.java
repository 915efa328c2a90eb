package dev.colonnade.query.jpql.yard;

import jakarta.persistence.CascadeType;
import jakarta.persistence.CollectionTable;
import jakarta.persistence.DiscriminatorColumn;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.Inheritance;
import jakarta.persistence.InheritanceType;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToMany;
import jakarta.persistence.Version;
import java.util.Set;
import org.hibernate.annotations.SoftDelete;

/** Never really deleted; the root of joined tables. */
@Entity
@Inheritance(strategy = InheritanceType.JOINED)
@DiscriminatorColumn(name = "kind")
@SoftDelete(columnName = "gone")
public class Crate {
  @Id public Long id;
  @Version public int version;
  public String label;

  @ManyToOne(fetch = FetchType.LAZY)
  public Depot depot;

  @ElementCollection
  @CollectionTable(name = "crate_mark")
  @SoftDelete
  public Set<String> marks;

  @OneToMany(mappedBy = "crate", cascade = CascadeType.ALL, orphanRemoval = true)
  public Set<Seal> seals;

  @ManyToMany public Set<Worker> handlers;

  /** Kept cold. */
  @Entity
  public static class Cooled extends Crate {
    public Integer degrees;
  }

  /** Closes a crate. */
  @Entity
  @SoftDelete(strategy = org.hibernate.annotations.SoftDeleteType.TIMESTAMP, columnName = "broken")
  public static class Seal {
    @Id public Long id;
    public String number;

    @ManyToOne(fetch = FetchType.LAZY)
    public Crate crate;
  }
}
