package dev.colonnade.query.jpql.dock;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** What lies at berths. */
public class Vessel {
  Long id;
  int version;
  String imo;
  String name;
  Size size;
  Company owner;
  String remark;
  Company insurer;
  int area;
  Set<Booking> bookings = new HashSet<>();
  Collection<String> flags = new ArrayList<>();
  Map<String, String> names = new HashMap<>();
  List<Inspection> inspections = new ArrayList<>();
  Set<Pilot> pilots = new HashSet<>();
  List<Mark> marks = new ArrayList<>();
}
