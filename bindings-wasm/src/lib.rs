//! Browser and Node package of Lixivium.
