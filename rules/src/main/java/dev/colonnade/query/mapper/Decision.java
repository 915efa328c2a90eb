package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.XmlNode.Element;
import java.util.List;
import java.util.Map;

/**
 * A part that was left out of a text, or put in, for the sake of a test.
 *
 * @param element the part
 * @param taken whether it was put in
 * @param otherwise what to suppose in addition for it to go the other way
 */
record Decision(Element element, boolean taken, List<Map<String, State>> otherwise) {}
