package dev.colonnade.query.jpql.dock;

/** A paint mark. */
public class Mark {
  String text;
  Company painter;
}
