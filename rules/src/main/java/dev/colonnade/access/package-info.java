/**
 * Which access path each index offers to each query. States facts and estimates; passes no
 * judgement.
 */
package dev.colonnade.access;
