/** What a rule is, what it knows about itself, and the one door through which it sees the world. */
package dev.colonnade.rule;
