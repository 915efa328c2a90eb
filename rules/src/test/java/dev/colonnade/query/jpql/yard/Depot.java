package dev.colonnade.query.jpql.yard;

import jakarta.persistence.CascadeType;
import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.JoinTable;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.MapKey;
import jakarta.persistence.MapKeyColumn;
import jakarta.persistence.MapKeyJoinColumn;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OneToOne;
import jakarta.persistence.OrderColumn;
import jakarta.persistence.TableGenerator;
import jakarta.persistence.Version;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.hibernate.annotations.BatchSize;
import org.hibernate.annotations.Fetch;
import org.hibernate.annotations.FetchMode;
import org.hibernate.annotations.Filter;
import org.hibernate.annotations.FilterDef;
import org.hibernate.annotations.ParamDef;
import org.hibernate.annotations.SQLJoinTableRestriction;
import org.hibernate.annotations.SQLRestriction;

/** Collections of every kind. */
@Entity
@FilterDef(
    name = "ofTenant",
    parameters = @ParamDef(name = "tenant", type = Integer.class),
    defaultCondition = "tenant = :tenant")
@FilterDef(name = "working", defaultCondition = "working = true")
@Filter(name = "ofTenant")
public class Depot {
  @Id
  @GeneratedValue(strategy = GenerationType.TABLE, generator = "depots")
  @TableGenerator(
      name = "depots",
      table = "id_block",
      pkColumnName = "kind",
      valueColumnName = "next_id",
      pkColumnValue = "depot")
  public Long id;

  @Version public int version;
  public int tenant;
  public String name;

  @OneToMany(mappedBy = "depot", cascade = CascadeType.ALL, orphanRemoval = true)
  @Filter(name = "working")
  public Set<Crane> cranes;

  @OneToMany(mappedBy = "reserve")
  @BatchSize(size = 10)
  @SQLRestriction("working = false")
  public List<Crane> spareCranes;

  @OneToMany(mappedBy = "lender")
  @Fetch(FetchMode.SUBSELECT)
  public List<Crane> lentCranes;

  @OneToMany(mappedBy = "depot")
  @MapKey(name = "code")
  public Map<String, Truck> trucks;

  @OneToMany
  @JoinColumn(name = "depot_id")
  public List<Gate> gates;

  @OneToMany
  @JoinColumn(name = "lane_depot")
  @OrderColumn(name = "lane_no")
  public List<Gate> lanes;

  @OneToMany public Set<Gate> closedGates;

  @ManyToMany
  @JoinTable(name = "depot_worker")
  @SQLJoinTableRestriction("depots_id > 0")
  public Set<Worker> workers;

  @ElementCollection
  @CollectionTable(name = "depot_tag")
  @Column(name = "tag")
  public Set<String> tags;

  @ElementCollection
  @CollectionTable(name = "depot_remark")
  public List<String> remarks;

  @ElementCollection
  @CollectionTable(name = "depot_step")
  @OrderColumn(name = "step_no")
  public List<String> steps;

  @ElementCollection
  @CollectionTable(name = "depot_price")
  @MapKeyColumn(name = "kind")
  @Column(name = "price")
  public Map<String, Integer> prices;

  @ElementCollection
  @CollectionTable(name = "depot_shift")
  @MapKeyJoinColumn(name = "worker_id")
  @Column(name = "hours")
  public Map<Worker, Integer> shifts;

  @ElementCollection
  @CollectionTable(name = "depot_fence")
  public Set<Fence> fences;

  @OneToOne(mappedBy = "depot", fetch = FetchType.LAZY)
  public Office office;

  @ManyToOne(fetch = FetchType.LAZY)
  public Depot parent;

  /** A part of the fence. */
  @Embeddable
  public static class Fence {
    public String side;
    public Integer metres;

    @Override
    public boolean equals(Object other) {
      return other instanceof Fence fence
          && Objects.equals(side, fence.side)
          && Objects.equals(metres, fence.metres);
    }

    @Override
    public int hashCode() {
      return Objects.hash(side, metres);
    }
  }
}
