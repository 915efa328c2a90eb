package harbour.pilotage

import jakarta.persistence.Column
import jakarta.persistence.ElementCollection
import jakarta.persistence.Embeddable
import jakarta.persistence.Embedded
import jakarta.persistence.EmbeddedId
import jakarta.persistence.Entity
import jakarta.persistence.EnumType
import jakarta.persistence.Enumerated
import jakarta.persistence.FetchType
import jakarta.persistence.GeneratedValue
import jakarta.persistence.Id
import jakarta.persistence.Inheritance
import jakarta.persistence.InheritanceType
import jakarta.persistence.JoinColumn
import jakarta.persistence.ManyToOne
import jakarta.persistence.MappedSuperclass
import jakarta.persistence.NamedQuery
import jakarta.persistence.OneToMany
import jakarta.persistence.Table
import jakarta.persistence.Transient
import jakarta.persistence.Version
import org.springframework.data.domain.Page
import org.springframework.data.domain.Pageable
import org.springframework.data.jpa.repository.EntityGraph
import org.springframework.data.jpa.repository.JpaRepository
import org.springframework.data.jpa.repository.Modifying
import org.springframework.data.jpa.repository.Query
import org.springframework.data.repository.NoRepositoryBean
import org.springframework.data.repository.kotlin.CoroutineCrudRepository
import org.springframework.data.repository.query.Param
import kotlinx.coroutines.flow.Flow
import java.time.Instant

@JvmInline
value class Callsign(val value: String)

enum class Grade { CADET, MATE, MASTER }

@Embeddable
data class Reach(@Column(name = "from_buoy") val from: String = "", var until: String? = null)

@Embeddable
data class TripKey(var pilotId: Long = 0, var number: Int = 0) : java.io.Serializable

@MappedSuperclass
abstract class Recorded {
  @Id @GeneratedValue var id: Long? = null
  @Version var version: Int = 0
  lateinit var recordedAt: Instant
  @get:Transient val age: Long get() = 0
}

@Entity
@Table(name = "pilots")
@NamedQuery(name = "Pilot.masters", query = "select p from Pilot p where p.grade = Grade.MASTER")
class Pilot(
  @Column(name = "full_name") val name: String,
  @field:Enumerated(EnumType.STRING) var grade: Grade?,
  val isActive: Boolean = true,
  var callsign: Callsign? = null,
  @ManyToOne(fetch = FetchType.LAZY) @JoinColumn(name = "mentor") var mentor: Pilot? = null,
) : Recorded() {
  @OneToMany(mappedBy = "pilot") val trips: MutableList<Trip> = mutableListOf()
  @ElementCollection val languages: MutableSet<String> = mutableSetOf()
  @delegate:Transient val initials: String by lazy { name.take(1) }

  companion object {
    const val ACTIVE = "p.isActive = true"
    const val BY_GRADE = "select p from Pilot p where $ACTIVE and p.grade = :grade"
  }
}

@Entity
@Inheritance(strategy = InheritanceType.JOINED)
sealed class Trip(
  @EmbeddedId val key: TripKey,
  @ManyToOne @JoinColumn(name = "pilot_ref") val pilot: Pilot,
  @Embedded val reach: Reach,
)

@Entity
class NightTrip(key: TripKey, pilot: Pilot, reach: Reach, val lamp: String) : Trip(key, pilot, reach)

interface PilotName {
  val name: String
  val grade: Grade?
}

data class PilotLine(val name: String, val isActive: Boolean)

@NoRepositoryBean
interface Records<T : Recorded> : JpaRepository<T, Long> {
  fun findByRecordedAtAfter(at: Instant): List<T>
}

interface Pilots : Records<Pilot> {
  fun findByNameAndIsActiveTrue(name: String): Pilot?

  fun findByCallsign(callsign: Callsign): List<Pilot>

  fun findByMentorName(name: String): List<Pilot>

  fun findByTripsReachFrom(buoy: String): List<Pilot>

  fun findByLanguagesContaining(language: String, page: Pageable): Page<Pilot>

  fun findByGrade(grade: Grade): List<PilotName>

  fun findByGradeNot(grade: Grade): List<PilotLine>

  fun <P : Any> findByGradeIn(grades: Collection<Grade>, type: Class<P>): List<P>

  @Query(Pilot.BY_GRADE)
  fun graded(@Param("grade") grade: Grade): List<Pilot>

  @Query(
    """
    select p from Pilot p
    join p.trips t
    where t.reach.from = :buoy
      and ${Pilot.ACTIVE}
    """
  )
  fun passing(buoy: String): List<Pilot>

  @Modifying
  @Query("update Pilot p set p.isActive = false where p.mentor.id = ?1")
  fun retire(mentor: Long): Int

  @Query(value = "select count(*) from pilots where full_name = :name", nativeQuery = true)
  fun named(name: String): Long

  @EntityGraph(attributePaths = ["mentor"])
  override fun findAll(): List<Pilot>

  fun everyone(): List<Pilot> = findAll() + masters(Grade.MASTER)

  @Query("select p from Pilot p where p.grade = :grade")
  fun masters(grade: Grade): List<Pilot>
}

interface PilotFlow : CoroutineCrudRepository<Pilot, Long> {
  fun findByGradeOrderByName(grade: Grade): Flow<Pilot>

  suspend fun findByName(name: String): PilotLine?

  @Query("select p from Pilot p where p.recordedAt < :at")
  suspend fun before(at: Instant, page: Pageable): List<Pilot>
}

interface Trips : JpaRepository<Trip, TripKey> {
  fun findByKeyPilotIdOrderByKeyNumberDesc(pilot: Long): List<Trip>

  fun existsByPilotAndReachUntilIsNull(pilot: Pilot): Boolean
}
