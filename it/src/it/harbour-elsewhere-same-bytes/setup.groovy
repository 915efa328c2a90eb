import java.nio.file.Files
import java.nio.file.Path

Path from = Path.of(harbourDirectory)
Path to = basedir.toPath().resolve('harbour')
Files.walk(from).withCloseable { files ->
  files.filter { !from.relativize(it).startsWith('target') }.forEach {
    Path copy = to.resolve(from.relativize(it))
    Files.isDirectory(it) ? Files.createDirectories(copy) : Files.copy(it, copy)
  }
}
