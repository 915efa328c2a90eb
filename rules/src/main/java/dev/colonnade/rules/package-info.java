/** The rules, one class each, and their list. */
package dev.colonnade.rules;
