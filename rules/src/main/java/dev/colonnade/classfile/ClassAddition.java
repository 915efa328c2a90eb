package dev.colonnade.classfile;

import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What mapping files say of one class; collected step by step. */
public final class ClassAddition {
  /** Where a class's persistent members are. */
  public enum Access {
    FIELD,
    PROPERTY
  }

  /**
   * What is said of one member.
   *
   * @param annotations its annotations; they take the place of those in the class
   * @param access where it is; empty under the access of the class
   * @param type binary name of its type, for a member that the class inherits or lacks
   */
  public record Member(
      List<AddedAnnotation> annotations, Optional<Access> access, Optional<String> type) {
    /** Copies the list. */
    public Member {
      annotations = List.copyOf(annotations);
    }
  }

  private final String className;
  private final SourceLocation location;
  private final List<AddedAnnotation> annotations = new ArrayList<>();
  private final Map<String, Member> members = new LinkedHashMap<>();
  private Optional<Access> access = Optional.empty();
  private boolean complete;
  private boolean listed;

  /**
   * Nothing is said so far.
   *
   * @param location where the class is mapped
   */
  public ClassAddition(String className, SourceLocation location) {
    this.className = className;
    this.location = location;
  }

  /** The annotations in the class count no more. */
  public void makeComplete() {
    complete = true;
  }

  /** Only members that are named here are persistent. */
  public void makeListed() {
    complete = true;
    listed = true;
  }

  /** Where members are that say nothing themselves. */
  public void access(Optional<Access> value) {
    access = value.isPresent() ? value : access;
  }

  /** An annotation of the class. */
  public void add(AddedAnnotation annotation) {
    annotations.removeIf(it -> it.type().equals(annotation.type()));
    annotations.add(annotation);
  }

  /** What is said of a member; said twice, the first stands. */
  public void member(String name, Member member) {
    members.putIfAbsent(name, member);
  }

  /** Binary name of the class. */
  public String className() {
    return className;
  }

  /** Where the class is mapped. */
  public SourceLocation location() {
    return location;
  }

  boolean isComplete() {
    return complete;
  }

  boolean isListed() {
    return listed;
  }

  Optional<Access> access() {
    return access;
  }

  List<AddedAnnotation> annotations() {
    return annotations;
  }

  Map<String, Member> members() {
    return members;
  }
}
