package dev.colonnade.query.mapper;

import java.util.List;
import java.util.Map;

/**
 * A part that was left out of a text, or put in, for the sake of a test.
 *
 * @param branch the part and whether it was put in
 * @param otherwise what to suppose in addition for it to go the other way
 */
record Decision(Branch branch, List<Map<String, State>> otherwise) {}
