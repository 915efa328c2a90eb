package dev.colonnade.query.jpql;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** The tables of one SELECT: roots, and what is joined to each, in an order that SQL accepts. */
final class FromClause {
  /** How a table is joined. */
  enum Kind {
    INNER("join"),
    LEFT("left join"),
    RIGHT("right join"),
    FULL("full join");

    private final String sql;

    Kind(String sql) {
      this.sql = sql;
    }
  }

  /** One joined table, perhaps with others in parentheses. */
  static final class Join {
    final Kind kind;
    final String alias;
    String table;
    final List<String> conditions = new ArrayList<>();
    final List<Join> nested = new ArrayList<>();

    Join(Kind kind, String table, String alias) {
      this.kind = kind;
      this.table = table;
      this.alias = alias;
    }

    private void stand(String writtenFor, String other) {
      table = alias.equals(writtenFor) ? other : table;
      nested.forEach(join -> join.stand(writtenFor, other));
    }

    private boolean mentions(String other) {
      return conditions.stream().anyMatch(condition -> condition.contains(other + "."))
          || nested.stream().anyMatch(join -> join.mentions(other));
    }

    private void render(StringBuilder sql) {
      sql.append(' ').append(kind.sql).append(' ');
      sql.append(nested.isEmpty() ? "" : "(").append(table).append(' ').append(alias);
      nested.forEach(join -> join.render(sql));
      sql.append(nested.isEmpty() ? "" : ")");
      sql.append(" on ").append(conditions.isEmpty() ? "1 = 1" : String.join(" and ", conditions));
    }
  }

  /** A table that stands by itself, with what is joined to it. */
  static final class Root {
    final String alias;
    String table;
    final List<Join> joins = new ArrayList<>();

    /** Aliases of joins that give each row once at most and are not needed to tell which rows. */
    final Set<String> droppable = new HashSet<>();

    Root(String table, String alias) {
      this.table = table;
      this.alias = alias;
    }

    /** Reads the rows of an alias from another table or subquery with the same columns. */
    void stand(String writtenFor, String other) {
      table = alias.equals(writtenFor) ? other : table;
      joins.forEach(join -> join.stand(writtenFor, other));
    }

    Join join(Kind kind, String joined, String joinedAlias) {
      Join join = new Join(kind, joined, joinedAlias);
      joins.add(join);
      return join;
    }

    /** Makes a join from the left an inner one: a row of that table must be there. */
    void require(String joinedAlias) {
      joins.replaceAll(
          join -> {
            if (!join.alias.equals(joinedAlias) || join.kind != Kind.LEFT) {
              return join;
            }
            Join inner = new Join(Kind.INNER, join.table, join.alias);
            inner.conditions.addAll(join.conditions);
            inner.nested.addAll(join.nested);
            return inner;
          });
    }

    /**
     * Adds a written condition to a join, after the condition has perhaps led to further joins:
     * those that hang on the join go with it, the others in front of it.
     *
     * @param from place of the first join that belongs to the join path
     * @param own how many joins the path itself took
     */
    void restrict(int from, int own, String condition) {
      List<Join> path = new ArrayList<>(joins.subList(from, from + own));
      List<Join> further = new ArrayList<>(joins.subList(from + own, joins.size()));
      Join first = path.get(0);
      path.forEach(
          it -> {
            if (reads(condition, it.alias)) {
              droppable.remove(it.alias);
            }
          });
      boolean ofFirst =
          reads(condition, first.alias)
              && path.stream().skip(1).noneMatch(it -> reads(condition, it.alias));
      if (further.isEmpty() && ofFirst) {
        first.conditions.add(condition);
        return;
      }
      if (further.isEmpty() && (own == 1 || first.kind == Kind.INNER)) {
        path.get(own - 1).conditions.add(condition);
        return;
      }
      joins.subList(from, joins.size()).clear();
      List<Join> inside = new ArrayList<>(path.subList(1, own));
      for (Join join : further) {
        boolean hangs =
            path.stream().anyMatch(it -> join.mentions(it.alias))
                || inside.stream().anyMatch(it -> join.mentions(it.alias));
        if (hangs) {
          inside.add(join);
        } else {
          joins.add(join);
        }
      }
      joins.add(first);
      if (first.kind == Kind.INNER) {
        joins.addAll(inside);
        joins.get(joins.size() - 1).conditions.add(condition);
        return;
      }
      for (Join join : inside) {
        Join inner =
            new Join(
                own > 1 && path.contains(join) ? Kind.INNER : join.kind, join.table, join.alias);
        inner.conditions.addAll(join.conditions);
        inner.nested.addAll(join.nested);
        first.nested.add(inner);
      }
      first.conditions.add(condition);
    }
  }

  final List<Root> roots = new ArrayList<>();

  /** Conditions of WHERE that roots bring along: restrictions, links to an outer query. */
  final List<String> conditions = new ArrayList<>();

  Root root(String table, String alias) {
    Root root = new Root(table, alias);
    roots.add(root);
    return root;
  }

  /**
   * Takes away joins that nothing reads, as Hibernate does: those that may go and whose alias
   * stands neither in the rest of the statement nor in what another join asks for.
   */
  void dropUnread(String rest) {
    for (Root root : roots) {
      Set<String> unread = new HashSet<>(root.droppable);
      unread.removeIf(
          alias -> reads(rest, alias) || root.joins.stream().anyMatch(join -> reads(join, alias)));
      drop(root.joins, unread);
    }
  }

  private static void drop(List<Join> joins, Set<String> aliases) {
    joins.forEach(join -> drop(join.nested, aliases));
    joins.removeIf(join -> join.nested.isEmpty() && aliases.contains(join.alias));
  }

  /** True where another join than the alias's own, or one inside it, asks for the alias. */
  private static boolean reads(Join reader, String alias) {
    return (!reader.alias.equals(alias)
            && reader.conditions.stream().anyMatch(condition -> reads(condition, alias)))
        || reader.nested.stream().anyMatch(nested -> reads(nested, alias));
  }

  private static boolean reads(String sql, String alias) {
    int at = sql.indexOf(alias + ".");
    while (at > 0 && Character.isJavaIdentifierPart(sql.charAt(at - 1))) {
      at = sql.indexOf(alias + ".", at + 1);
    }
    return at >= 0;
  }

  /** The clause without its word; a root that follows joins is cross joined. */
  String render() {
    StringBuilder sql = new StringBuilder();
    for (Root root : roots) {
      sql.append(sql.isEmpty() ? "" : " cross join ").append(root.table);
      if (!root.alias.equals(root.table)) {
        sql.append(' ').append(root.alias);
      }
      root.joins.forEach(join -> join.render(sql));
    }
    return sql.toString();
  }
}
