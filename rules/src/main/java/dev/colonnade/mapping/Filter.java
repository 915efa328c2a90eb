package dev.colonnade.mapping;

/**
 * A condition that a session can switch on (Hibernate's {@code @Filter}).
 *
 * @param name the filter's name
 * @param condition the condition on a table
 * @param always true where it is on in each session ({@code autoEnabled})
 * @param byKey true where it also restricts what is read by its identifier
 */
public record Filter(String name, Restriction condition, boolean always, boolean byKey) {}
