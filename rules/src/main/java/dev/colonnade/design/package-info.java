/** Which indexes a table could do with or without. States facts and estimates; no judgement. */
package dev.colonnade.design;
