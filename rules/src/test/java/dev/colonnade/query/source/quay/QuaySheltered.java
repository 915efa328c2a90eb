package dev.colonnade.query.source.quay;

/** Takes its statements from elsewhere, and the templates that they include from its own group. */
public interface QuaySheltered extends QuayCommon {}
