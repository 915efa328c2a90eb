package dev.colonnade.plugin;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;

/** The parameters after the checks; paths are absolute. */
record Gathered(
    Path baseDirectory,
    List<Changelog> changelogs,
    List<Path> changelogDirectories,
    List<Path> dependencies,
    String database,
    Optional<String> contexts,
    Optional<String> labels,
    SortedMap<String, String> changelogParameters,
    List<Path> queryFiles,
    List<QueryAnnotation> queryAnnotations,
    List<Path> mapperFiles,
    Path classesDirectory,
    List<Path> sourceDirectories,
    Optional<Path> statisticsFile,
    Optional<Path> acceptedFile,
    Path outputDirectory,
    FailOn failOn,
    SortedMap<String, String> severities) {}
