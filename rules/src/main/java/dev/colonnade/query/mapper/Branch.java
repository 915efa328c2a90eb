package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.XmlNode.Element;

/** One outcome of a decision. Parts are told apart by where they stand, not by what they say. */
final class Branch {
  private final Element element;
  private final boolean taken;

  Branch(Element element, boolean taken) {
    this.element = element;
    this.taken = taken;
  }

  Branch opposite() {
    return new Branch(element, !taken);
  }

  @Override
  @SuppressWarnings("ReferenceEquality") // Equal parts in two places are two parts.
  public boolean equals(Object other) {
    return other instanceof Branch branch && branch.element == element && branch.taken == taken;
  }

  @Override
  public int hashCode() {
    return System.identityHashCode(element) * 2 + (taken ? 1 : 0);
  }
}
