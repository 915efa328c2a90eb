import java.nio.file.Files

File there = new File(harbourDirectory, 'target/colonnade')
File here = new File(basedir, 'harbour/target/colonnade')
assert there.list().size() > 2
assert here.list().sort() == there.list().sort()
there.list().each { name ->
  assert Files.mismatch(here.toPath().resolve(name), there.toPath().resolve(name)) == -1L : name + ' differs'
}
return true
