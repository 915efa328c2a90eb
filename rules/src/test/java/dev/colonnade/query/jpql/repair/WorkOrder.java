package dev.colonnade.query.jpql.repair;

import jakarta.persistence.CascadeType;
import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.JoinTable;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.MapKeyColumn;
import jakarta.persistence.MapKeyEnumerated;
import jakarta.persistence.NamedAttributeNode;
import jakarta.persistence.NamedEntityGraph;
import jakarta.persistence.NamedQuery;
import jakarta.persistence.NamedSubgraph;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OrderColumn;
import jakarta.persistence.SecondaryTable;
import jakarta.persistence.Table;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** A repair. */
@Entity
@Table(name = "work_orders")
@SecondaryTable(name = "work_order_notes")
@NamedQuery(
    name = "WorkOrder.urgent",
    query = "select o from WorkOrder o where o.priority > 8 and o.state <> State.DONE")
@NamedEntityGraph(
    name = "WorkOrder.whole",
    attributeNodes = {
      @NamedAttributeNode("client"),
      @NamedAttributeNode(value = "tasks", subgraph = "task")
    },
    subgraphs = @NamedSubgraph(name = "task", attributeNodes = @NamedAttributeNode("worker")))
public class WorkOrder extends Audited {
  @Column(name = "order_no", unique = true)
  String orderNumber;

  @Enumerated(EnumType.STRING)
  State state;

  int priority;
  Boolean insured;
  LocalDate startsOn;
  LocalDate endsOn;

  @Column(table = "work_order_notes", name = "note_text")
  String remark;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  Craft craft;

  @ManyToOne(fetch = FetchType.LAZY)
  Client client;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "parent_id")
  WorkOrder parent;

  @Embedded Site site;

  @OneToMany(mappedBy = "order", cascade = CascadeType.ALL, orphanRemoval = true)
  List<Task> tasks;

  @OneToMany(mappedBy = "parent")
  Set<WorkOrder> children = new HashSet<>();

  @ElementCollection
  @CollectionTable(name = "work_order_charges", joinColumns = @JoinColumn(name = "order_id"))
  @OrderColumn(name = "pos")
  List<Money> charges;

  @ElementCollection Set<String> tags;

  @ElementCollection
  @MapKeyColumn(name = "attr")
  @Column(name = "val")
  Map<String, String> attributes;

  @ElementCollection
  @MapKeyEnumerated(EnumType.STRING)
  Map<Skill, Integer> hours = new HashMap<>();

  @ManyToMany
  @JoinTable(name = "work_order_suppliers")
  Set<Supplier> suppliers;
}
