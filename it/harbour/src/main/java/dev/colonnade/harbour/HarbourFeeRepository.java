package dev.colonnade.harbour;

import java.math.BigDecimal;
import java.util.List;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.repository.query.Param;

/** Fees: by berth for the plan of works, by invoice for the print. */
public interface HarbourFeeRepository extends JpaRepository<HarbourFee, Long> {

  /** What a berth has earned. */
  @NativeQuery("select sum(amount) from harbour_fee where berth_id = :berth")
  BigDecimal earnedBy(@Param("berth") long berth);

  /** What each berth has earned. */
  @NativeQuery("select berth_id as berth, sum(amount) as total from harbour_fee group by berth_id")
  List<BerthTotal> earnedByEach();

  /** The lines of an invoice. */
  @NativeQuery("select * from harbour_fee where invoice_id = :invoice")
  List<HarbourFee> linesOf(@Param("invoice") long invoice);

  /** The latest charges at a berth. */
  @NativeQuery(
      "select * from harbour_fee where berth_id = :berth order by charged_on desc limit 50")
  List<HarbourFee> latestAt(@Param("berth") long berth);

  /** A sum of fees. */
  interface BerthTotal {
    long getBerth();

    BigDecimal getTotal();
  }
}
