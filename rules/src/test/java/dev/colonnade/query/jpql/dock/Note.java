package dev.colonnade.query.jpql.dock;

import java.util.HashMap;
import java.util.Map;

/** Something to remember. */
public class Note {
  Long id;
  String text;
  Company company;
  Object about;
  String more;
  String evenMore;
  int number;
  Written written;
  Map<Pilot, Integer> watchers = new HashMap<>();
}
