package dev.colonnade.query.jpql.yard;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.PrimaryKeyJoinColumn;
import jakarta.persistence.SecondaryTable;
import jakarta.persistence.Version;
import java.util.Set;

/** In two tables. */
@Entity
@SecondaryTable(name = "worker_file", pkJoinColumns = @PrimaryKeyJoinColumn(name = "worker_id"))
public class Worker {
  @Id public Long id;
  @Version public Integer version;
  public String name;

  @Column(table = "worker_file", name = "remark")
  public String remark;

  @ManyToMany(mappedBy = "workers", fetch = FetchType.LAZY)
  public Set<Depot> depots;
}
