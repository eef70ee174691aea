"""Ground: elevation, cover and vector files become one aligned metric grid."""
