/** What a rule has to say about a schema or a query: a premise, a judgement and a way out. */
package dev.colonnade.finding;
