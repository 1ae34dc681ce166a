# Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py.

source("examples/r/lixivium.R")
soap <- lixivium(Sys.getenv("LIXIVIUM_GLUE"))

for (line in readLines(file("stdin"), encoding = "UTF-8")) {
  tab <- regexpr("\t", line, fixed = TRUE)
  given <- soap$ask(substr(line, 1, tab - 1), substring(line, tab + 1))
  writeLines(paste0(given$status, "\t", given$answer), useBytes = TRUE)
}
