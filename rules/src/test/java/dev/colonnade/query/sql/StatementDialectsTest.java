package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Statements as each database writes them. */
class StatementDialectsTest {
  private static final StatementFixture HARBOUR =
      StatementFixture.of(
          "postgresql",
          "vessel(id, name, length, flag, starts_at)",
          "berth(id, name, length)",
          "booking(id, vessel_id, berth_id, status, starts_on, price)");

  private static void analysed(String database, String statements) {
    List<String> lines = statements.lines().toList();
    assertThat(lines)
        .allSatisfy(sql -> assertThat(HARBOUR.on(database).reason(sql)).isEqualTo("analysed"));
  }

  @Test
  void reads_mssql() {
    analysed(
        "mssql",
        """
        select top 10 [name] from [vessel] with (nolock) where [id] = @id order by [name] option (recompile)
        select * from vessel v with (index(ix_a), nolock) join booking b with (nolock) on b.vessel_id = v.id where v.name = N'x'
        update b set b.status = 'x' from booking b inner join vessel v on v.id = b.vessel_id where v.flag = 'x'
        delete b from booking b where b.id = 1
        select v.name from vessel v cross apply (select top 1 b.price from booking b where b.vessel_id = v.id order by b.starts_on desc) x
        select * from vessel order by id offset 10 rows fetch next 20 rows only
        select isnull(name, 'x'), getdate(), len(name), convert(varchar(10), starts_on, 120), datediff(day, starts_on, getdate()) from booking, vessel where iif(vessel.id = 1, 1, 0) = 1
        select count_big(*) from vessel where name collate Latin1_General_CI_AS = 'x'
        with x as (select row_number() over (order by id) rn, * from vessel) select * from x where rn between 1 and 10
        select * from dbo.vessel where name like '[a-c]%'
        insert into vessel (id, name) output inserted.id values (1, 'x')
        select name + 'x' from vessel where id = 1 for json path
        merge vessel as t using (select 1 as id, 'x' as name) as s on t.id = s.id when matched then update set name = s.name when not matched then insert (id, name) values (s.id, s.name);
        select string_agg(name, ',') within group (order by name) from vessel\
        """);
  }

  @Test
  void reads_oracle() {
    analysed(
        "oracle",
        """
        select v.name, b.status from vessel v, booking b where v.id = b.vessel_id(+) and b.status(+) = 'x' and v.flag = 'NL'
        select * from (select v.*, rownum rn from (select * from vessel order by name) v where rownum <= 20) where rn > 10
        select * from vessel where rownum <= 10
        select * from vessel where rownum = 1 and flag = 'x'
        select sysdate, systimestamp from dual
        select nvl(name, 'x'), decode(flag, 'a', 1, 2), to_date('2020-01-01', 'YYYY-MM-DD'), trunc(sysdate) from vessel
        select seq_vessel.nextval from dual
        insert into vessel (id, name) values (seq_vessel.nextval, :name)
        select /*+ index(v ix) */ * from vessel v where id = :1
        select * from booking where starts_on > date '2020-01-01' - interval '1' day
        select listagg(name, ',') within group (order by name) from vessel group by flag
        select * from vessel v where v.id in (select /*+ unnest */ vessel_id from booking) and regexp_like(name, '^a')
        select * from vessel for update nowait
        select * from vessel where name like :x escape '\\'
        select * from vessel minus select * from vessel where id = 1
        merge into vessel t using dual on (t.id = :id) when matched then update set t.name = :n when not matched then insert (id, name) values (:id, :n)
        select count(*) over () c, v.* from vessel v offset 5 rows fetch next 5 rows only
        select max(name) keep (dense_rank last order by id) from vessel
        update vessel v set (name, flag) = (select b.status, 'x' from booking b where b.vessel_id = v.id) where exists (select 1 from booking b where b.vessel_id = v.id)
        delete vessel where id = 1
        select * from vessel partition (p1) where id = 1
        select extract(year from starts_on), months_between(starts_on, sysdate) from booking\
        """);
  }

  @Test
  void reads_mysql() {
    analysed(
        "mysql",
        """
        select `name` from `vessel` where `id` = ? limit 5, 10
        select @row := @row + 1 as r, v.* from vessel v, (select @row := 0) x order by v.id
        select sql_calc_found_rows * from vessel where name = "abc" limit 10
        select * from vessel force index (ix_a) where name regexp '^a' and id <=> null
        select * from vessel v straight_join booking b on b.vessel_id = v.id
        select group_concat(distinct name order by name desc separator ', ') from vessel group by flag with rollup
        insert ignore into vessel (id, name) values (1, 'x'), (2, 'y')
        insert into vessel (id, name) values (1, 'x') on duplicate key update name = values(name)
        replace into vessel (id, name) values (1, 'x')
        update vessel v, booking b set v.name = 'x' where b.vessel_id = v.id
        delete from vessel where id = 1 order by name limit 5
        delete v, b from vessel v join booking b on b.vessel_id = v.id where v.id = 1
        select * from vessel where id = 1 lock in share mode
        select * from vessel where id = 1 for update skip locked
        select date_format(starts_on, '%Y-%m') m, count(*) from booking group by m having m > '2020'
        select * from booking where starts_on >= date_sub(now(), interval 7 day) and year(starts_on) = 2020
        select if(flag = 'x', 1, 0), ifnull(name, ''), concat_ws(',', name, flag) from vessel
        select * from vessel where match(name) against ('x' in boolean mode)
        select * from vessel where name like '%\\'%' and flag = 'it\\\\'
        select json_extract(name, '$.a'), name->'$.a', name->>'$.a' from vessel
        select * from vessel where id in (1,2,3) order by field(id, 3, 2, 1)
        select distinct v.name from vessel v where v.flag = 'x' && v.id > 3 || v.id = 5
        select * from vessel where !(id = 5)
        select * from vessel where id = 5 and not name = 'x' xor flag = 'y'
        select * from vessel where length % 2 = 0 and length mod 2 = 0 and length div 2 = 1
        select count(distinct id, name) from vessel
        select * from vessel where (id, name) = (1, 'x')
        select 1 from booking where date(starts_on) = curdate()
        select * from booking where date(starts_on) = curdate() # comment :x
        select * from vessel a left join berth b using(id) where b.name is null
        (select id from vessel limit 1) union (select id from berth limit 1) limit 5
        select convert(name, signed), convert(concat(name, ')'), char(3)), convert(length, decimal(10,2)) from vessel order by convert(name, unsigned integer)
        select table_name from information_schema.tables where table_schema = (select database()) and table_name not in (select name from vessel)
        select binary name from vessel where name = binary #{name} and binary flag = 'NL' and id in (binary ?, binary :b) order by binary name
        select name from vessel where name like binary 'x' and cast(flag as binary) = 'NL'
        insert into vessel set id = 1, name = 'x'
        select straight_join * from vessel
        select * from vessel limit 10 offset 5\
        """);
  }

  @Test
  void reads_sqlite() {
    analysed(
        "sqlite",
        """
        select rowid, * from vessel where rowid = 5
        select * from vessel where name glob 'a*' and flag is not 'x' and length isnull
        select * from vessel where name like 'a%' escape '\\' limit 10 offset 5
        insert or replace into vessel (id, name) values (?, ?)
        insert or ignore into vessel (id) values (1)
        select * from [vessel] where "name" = 'x' and `flag` = $flag and id = @id and length = :len
        select strftime('%Y', starts_on), datetime('now'), julianday(starts_on) from booking
        select * from vessel not indexed where id = 1
        select * from vessel indexed by ix where id = 1
        select * from vessel where name == 'x'
        select name n from vessel where n = 'x'
        select count(*) filter (where flag = 'x') from vessel
        update vessel set name = 'x' where id = 1 returning *
        select * from vessel where id between ?1 and ?2
        select * from vessel, json_each(vessel.name) where json_each.value = 5
        select max(length, 3) from vessel
        select * from vessel where +length = 10\
        """);
  }

  @Test
  void reads_postgresql() {
    analysed(
        "postgresql",
        """
        select * from vessel where name = any(array['a','b']::text[]) and starts_at is null
        select * from vessel where id = any($1::bigint[]) for no key update of vessel skip locked
        select v.* from vessel v where v.name ilike '%' || :q || '%' order by v.id desc nulls last limit 10
        select v.name, count(b.*) from vessel v left join booking b on b.vessel_id = v.id group by v.id
        select distinct on (v.flag) v.* from vessel v order by v.flag, v.length desc
        select * from vessel where name ~* '^x' and flag !~ 'y' and lower(name) similar to '%(a|b)%'
        select * from booking where starts_on >= now() - '7 days'::interval and starts_on at time zone 'utc' > '2020-01-01'
        select * from booking where (starts_on, starts_on) overlaps (date '2020-01-01', date '2020-02-01')
        select * from booking where starts_on <@ daterange('2020-01-01', '2020-02-01')
        select * from vessel where name ->> 'a' = 'b' and name @> '{"a":1}' and name #>> '{a,b}' = 'c'
        insert into vessel (id, name) values (:id, :name) on conflict (id) do update set name = excluded.name where vessel.name <> excluded.name returning id
        update vessel set name = b.status from booking b where b.vessel_id = vessel.id returning vessel.id
        delete from vessel v using booking b where b.vessel_id = v.id returning v.*
        select * from vessel v cross join lateral (select count(*) c from booking b where b.vessel_id = v.id) x where x.c > 5
        select generate_series(1, 10), unnest(array[1,2])
        select * from unnest(array[1,2], array['a','b']) as t(a, b) join vessel v on v.id = t.a
        select * from vessel where id in (values (1), (2))
        select * from vessel where (name, id) > ('x', 5) order by name, id limit 10
        select sum(price) filter (where status = 'x') over (partition by vessel_id order by starts_on rows between unbounded preceding and current row) from booking
        select percentile_cont(0.5) within group (order by price) from booking
        select coalesce(sum(price), 0)::numeric(10,2) from booking
        select array_agg(name order by id) from vessel
        select to_tsvector('english', name) @@ plainto_tsquery('english', :q) from vessel
        select * from vessel where to_tsvector('english', name) @@ to_tsquery(:q)
        select * from only vessel
        select * from vessel tablesample system (10)
        select exists(select 1 from vessel), not exists(select 1 from berth)
        select case when v.flag = 'x' then (select max(price) from booking b where b.vessel_id = v.id) end from vessel v
        select row_to_json(v) from vessel v
        select v::text from vessel v
        select (v).name from vessel v
        select * from vessel where name is distinct from :name
        select * from vessel where name = 'x' collate "C"
        select * from vessel where id = '5'::int and name = e'x\\n'
        select extract(epoch from starts_on), date_part('year', starts_on) from booking
        select * from vessel where flag = true and (flag) and not flag
        select pg_try_advisory_lock(1)
        select nextval('seq')
        select * from vessel where id::text like :x
        select min(b.starts_on) from booking b where b.vessel_id = :v group by b.berth_id having count(*) > 1
        select v.name from vessel v where v.length = (select max(length) from vessel)
        select * from vessel fetch first 10 rows only
        select * from vessel v natural left join berth b
        select * from (select 1 as a) x, (values (1),(2)) y(b)
        select * from vessel where id <> all(array[1,2]) and id = some(array[3])
        select string_agg(distinct name, ',') from vessel
        select * from vessel window w as (partition by flag)\
        """);
  }

  @Test
  void reads_db2() {
    analysed(
        "db2",
        """
        select * from vessel where id = 1 with ur
        select * from vessel fetch first 10 rows only with ur
        select * from vessel where id = 1 for read only with ur
        select * from vessel optimize for 10 rows
        select current date, current timestamp from sysibm.sysdummy1
        select * from booking where starts_on > current date - 7 days
        values current date
        select * from booking where starts_on = current_date\
        """);
  }

  @Test
  void reads_h2() {
    analysed(
        "h2",
        """
        select * from vessel where name regexp 'x' limit 10 offset 5
        select top 5 * from vessel
        select * from system_range(1, 10)
        select * from vessel where array_contains(name, 'x')
        select rownum(), name from vessel
        select * from vessel where id = any(?)
        select dateadd('DAY', 1, starts_on) from booking
        select * from vessel qualify row_number() over (partition by flag order by id) = 1\
        """);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      quoteCharacter = '°',
      textBlock =
          """
          oracle ~ select v.name from vessel v, booking b where v.id = b.vessel_id(+) and b.status(+) = 'x' and v.flag = 'NL' ~ 1=vessel v, 2=booking b?<1 ~ id = vessel_id {2} & status = 'x' {2} & flag = 'NL' {1}
          oracle ~ select v.name from vessel v, booking b, berth t where b.vessel_id(+) = v.id and t.id(+) = b.berth_id ~ 1=vessel v, 2=booking b?<1, 3=berth t?<2 ~ vessel_id = id {2} & id = berth_id {3}
          oracle ~ select v.name from vessel v, booking b where b.vessel_id(+) = v.id and b.price > 3 ~ 1=vessel v, 2=booking b ~ vessel_id = id {1,2} & price > 3 {2}
          mysql  ~ select 1 from vessel where name = "it's" && flag = 'a' || id = 5 ~ 1=vessel ~ ((name = 'it''s' and flag = 'a') or id = 5) {1}
          sqlite ~ select 1 from vessel where rowid = 5 ~ 1=vessel ~ id = 5 {1}
          sqlite ~ select 1 from vessel where name glob 'a*' and flag is 'x' and length == 3 ~ 1=vessel ~ name glob 'a*' {1} & flag <=> 'x' {1} & length = 3 {1}
          sqlite ~ select name n from vessel where n = 'x' ~ 1=vessel ~ name = 'x' {1}
          mssql  ~ select 1 from [vessel] v with (nolock) where [v].[name] = @name ~ 1=vessel v ~ name = ? {1}
          mssql  ~ select 1 from vessel v cross apply (select top 1 * from booking b where b.vessel_id = v.id) x ~ 1=vessel v, 3=block 2 x<1 ~ °°
          mssql  ~ select 1 from vessel v outer apply (select top 1 * from booking b where b.vessel_id = v.id) x ~ 1=vessel v, 3=block 2 x?<1 ~ °°
          """)
  void understands_what_is_special(String database, String sql, String from, String conditions) {
    var block = HARBOUR.on(database).block(sql, 1);
    assertThat(block.from().stream().map(StatementFixture::render).toList())
        .isEqualTo(List.of(from.split(", ", -1)));
    assertThat(StatementFixture.conditions(block)).isEqualTo(conditions);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      textBlock =
          """
          oracle     ~ select level from dual connect by level <= 10  ~ CONNECT BY is not modelled
          oracle     ~ select 1 from vessel v, booking b where v.id(+) = b.vessel_id(+) ~ (+) on two tables in one condition
          mysql      ~ select id from vessel where where id = 1 ~ SQL does not parse near 'id' at 10:35
          """)
  void says_what_it_does_not_understand(String database, String sql, String reason) {
    assertThat(HARBOUR.on(database).reason(sql)).isEqualTo(reason);
  }
}
