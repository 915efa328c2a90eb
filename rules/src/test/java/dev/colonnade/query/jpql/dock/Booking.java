package dev.colonnade.query.jpql.dock;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;

/** A vessel's place and time. */
public class Booking {
  BookingId id;
  Berth berth;
  LocalDateTime arrives;
  String state;
  List<Charge> charges = new ArrayList<>();
}
