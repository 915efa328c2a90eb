package dev.colonnade.query.jpql.yard;

import jakarta.persistence.CascadeType;
import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OneToOne;
import java.util.List;
import org.hibernate.annotations.BatchSize;
import org.hibernate.annotations.Filter;
import org.hibernate.annotations.Formula;
import org.hibernate.annotations.JoinColumnOrFormula;
import org.hibernate.annotations.JoinFormula;
import org.hibernate.annotations.NaturalId;
import org.hibernate.annotations.NotFound;
import org.hibernate.annotations.NotFoundAction;

/** References of every kind, most of them read at once. */
@Entity
@BatchSize(size = 20)
@Filter(name = "ofTenant")
@Filter(name = "working", condition = "working = true and retired is null")
public class Crane {
  @Id public Long id;
  public int tenant;
  public boolean working;
  public Integer retired;

  @NaturalId
  @Column(name = "maker_code")
  public String maker;

  @NaturalId public String serial;

  @Formula("lift * 1000")
  public Integer kilos;

  public Integer lift;

  @ManyToOne(optional = false)
  public Depot depot;

  @ManyToOne(fetch = FetchType.LAZY)
  public Depot reserve;

  @ManyToOne(fetch = FetchType.LAZY)
  public Depot lender;

  @ManyToOne
  @NotFound(action = NotFoundAction.IGNORE)
  public Worker driver;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "truck_code", referencedColumnName = "code")
  public Truck truck;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinFormula("coalesce(retired, lift)")
  public Gate nearest;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumnOrFormula(column = @JoinColumn(name = "gate_no"))
  public Gate gate;

  @OneToOne(mappedBy = "crane")
  public Permit permit;

  @OneToMany(mappedBy = "crane", cascade = CascadeType.REMOVE, fetch = FetchType.EAGER)
  public List<Inspection> inspections;
}
