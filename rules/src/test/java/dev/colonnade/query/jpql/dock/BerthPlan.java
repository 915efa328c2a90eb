package dev.colonnade.query.jpql.dock;

/** Shares its berth's key. */
public class BerthPlan {
  Long id;
  Berth berth;
  String drawing;
}
