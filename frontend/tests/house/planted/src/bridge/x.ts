/** Planted: breaks one law of the house on purpose, never built. */
import "../pickups/x";
import "../worker/x";
