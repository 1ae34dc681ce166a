//! C library of Lixivium: liblixivium and lixivium.h.
