/** Planted: breaks one law of the house on purpose, never built. */
import "../main.x";
import "./round";
import "./nowhere";
