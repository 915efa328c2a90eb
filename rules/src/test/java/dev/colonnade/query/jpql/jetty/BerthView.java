package dev.colonnade.query.jpql.jetty;

/** A part of a berth's row, seen through an interface. */
public interface BerthView {
  String getCode();
}
