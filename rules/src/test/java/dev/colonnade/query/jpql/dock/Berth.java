package dev.colonnade.query.jpql.dock;

import java.util.ArrayList;
import java.util.Date;
import java.util.List;

/** Where vessels lie. */
public class Berth {
  Long id;
  String quay;
  int no;
  Boolean open;
  Company keeper;
  BerthPlan plan;
  List<String> tools = new ArrayList<>();
  Date changed;
}
