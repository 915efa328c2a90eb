package dev.colonnade.query.jpql.port;

import jakarta.data.Limit;
import jakarta.data.Order;
import jakarta.data.page.Page;
import jakarta.data.page.PageRequest;
import jakarta.data.repository.By;
import jakarta.data.repository.CrudRepository;
import jakarta.data.repository.Delete;
import jakarta.data.repository.Find;
import jakarta.data.repository.OrderBy;
import jakarta.data.repository.Query;
import jakarta.data.repository.Repository;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** Stays, asked for in the way of Jakarta Data. */
@Repository
public interface Stays extends CrudRepository<Booking, Long> {
  @Find
  List<Booking> byReference(@By("reference") String wanted);

  @Find
  Optional<Booking> one(@By(By.ID) Long id);

  @Find
  @OrderBy("arrival")
  @OrderBy(value = "id", descending = true)
  List<Booking> ofVessel(@By("vessel.name") String name, boolean paid);

  @Find
  @OrderBy(value = "reference", ignoreCase = true)
  Page<Booking> paidOnes(boolean paid, PageRequest page, Order<Booking> order);

  @Find
  List<Booking> first(boolean paid, Limit limit);

  @Find
  Stream<Booking> inState(Status status);

  @Find
  List<Booking> ofOwner(String vessel_owner_name);

  @Delete
  void forget(boolean paid, Integer cargoTons);

  @Delete
  void remove(Booking booking);

  @Query("where reference like :pattern order by arrival")
  List<Booking> like(String pattern);

  @Query("select reference where paid = true")
  List<String> references();

  @Query("from Booking where vessel.owner.name = ?1")
  List<Booking> ownedBy(String name);

  @Query("select count(this) where paid = false")
  long open();

  @Query("where paid = true")
  Page<Booking> pages(PageRequest page);

  @Query("update Booking set paid = true where this.id = :id")
  int pay(Long id);

  @Query("delete from Booking where this.arrival < :at")
  int purge(LocalDateTime at);
}
