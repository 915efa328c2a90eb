package dev.colonnade.plugin;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.apache.maven.artifact.Artifact;
import org.apache.maven.plugin.MojoExecutionException;
import org.apache.maven.project.MavenProject;

/** Where the files of a service are: as configured, or where its build has them. */
final class ServiceFiles {
  private final MavenProject project;
  private final Complaint complaint;

  ServiceFiles(MavenProject project, Complaint complaint) {
    this.project = project;
    this.complaint = complaint;
  }

  List<Path> changelogSearchRoots(List<File> changelogDirectories) throws MojoExecutionException {
    List<Path> roots = new ArrayList<>();
    if (changelogDirectories == null || changelogDirectories.isEmpty()) {
      roots.add(baseDirectory().resolve("src/main/resources"));
      roots.add(baseDirectory());
      roots.addAll(dependencies());
    } else {
      for (File directory : changelogDirectories) {
        if (!directory.isDirectory()) {
          throw complaint.about(
              "changelogDirectories", shown(directory.toPath()) + " is not a directory");
        }
        roots.add(directory.toPath());
      }
    }
    return roots;
  }

  /** Jars, or class directories of modules of the same build, in class path order. */
  List<Path> dependencies() {
    return project.getArtifacts().stream()
        .map(Artifact::getFile)
        .filter(Objects::nonNull)
        .map(File::toPath)
        .toList();
  }

  List<Path> selected(String parameter, FileSelection selection, String defaultInclude)
      throws MojoExecutionException {
    if (selection == null || selection.isEmpty()) {
      return List.of();
    }
    Path directory = selection.directory(baseDirectory());
    if (!Files.isDirectory(directory)) {
      throw complaint.about(parameter, shown(directory) + " is not a directory");
    }
    return selection.files(baseDirectory(), defaultInclude);
  }

  /** The source roots as configured, else those of the build with the usual one of Kotlin. */
  List<Path> sources(List<File> sourceDirectories) {
    if (sourceDirectories != null && !sourceDirectories.isEmpty()) {
      return sourceDirectories.stream().map(File::toPath).toList();
    }
    List<Path> roots =
        new ArrayList<>(project.getCompileSourceRoots().stream().map(Path::of).toList());
    Path kotlin = baseDirectory().resolve("src/main/kotlin");
    if (Files.isDirectory(kotlin) && !roots.contains(kotlin)) {
      roots.add(kotlin);
    }
    return roots;
  }

  Optional<Path> file(String parameter, File configured, String usual)
      throws MojoExecutionException {
    if (configured == null) {
      return Optional.of(baseDirectory().resolve(usual)).filter(Files::isRegularFile);
    }
    if (!configured.isFile()) {
      throw complaint.about(parameter, shown(configured.toPath()) + " does not exist");
    }
    return Optional.of(configured.toPath());
  }

  /** The path as a message shows it: below the base directory, or absolute. */
  String shown(Path path) {
    Path inside = path.startsWith(baseDirectory()) ? baseDirectory().relativize(path) : path;
    return inside.toString().replace('\\', '/');
  }

  Path baseDirectory() {
    return project.getBasedir().toPath();
  }
}
