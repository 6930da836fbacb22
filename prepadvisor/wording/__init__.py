"""Facts into sentences: units, names of places, holds, mends, remarks. The only room that makes them."""
