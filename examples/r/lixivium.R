# Lixivium from R: exact soap arithmetic. JSON by jsonlite (r-cran-jsonlite).
#
# Build the glue once, and load both:
#
#     PKG_CPPFLAGS=$(pkg-config --cflags lixivium) PKG_LIBS=$(pkg-config --libs lixivium) \
#         R CMD SHLIB lixivium.c
#
#     source("lixivium.R")
#     soap <- lixivium("lixivium.so")
#     plan <- soap$call("plan", list(fats = list(list(fat = "olive-oil", mass = 500)),
#                                    superfat = 5, water = list(lye_concentration = 33)))
#     plan$naoh_mass$value      # the nearest double; $exact is the number itself, as text
#
# Requests and answers are lists, as README.md describes them; a vector of length 1 is a number
# or a text, and I(...) keeps it a list. Doubles go out with 15 digits, so that 0.1 is 0.1; a number
# with more digits is given as text.

lixivium <- function(glue) {
  dll <- dyn.load(glue)
  address <- function(name) getNativeSymbolInfo(name, dll)$address
  ask_address <- address("lixivium_ask")
  if (!.Call(address("lixivium_abi"))) stop("liblixivium has another ABI than its header")

  # Carries out one operation, JSON text in and out: the status and the answer.
  ask <- function(operation, request) {
    given <- .Call(ask_address, operation, request)
    text <- rawToChar(given[[2]])
    Encoding(text) <- "UTF-8"
    list(status = given[[1]], answer = text)
  }

  # Carries out one operation. Faults are signalled as a condition of class lixivium_error,
  # whose $faults has all that is wrong with the request, each with code, at, says.
  call <- function(operation, request) {
    text <- jsonlite::toJSON(request, auto_unbox = TRUE, digits = NA, null = "null")
    given <- ask(operation, as.character(text))
    answer <- jsonlite::fromJSON(given$answer, simplifyVector = FALSE)
    if (given$status != 0) {
      faults <- answer$error$faults
      lines <- vapply(faults, function(f) sub("^: ", "", paste0(f$at, ": ", f$says)), "")
      stop(structure(class = c("lixivium_error", "error", "condition"),
                     list(message = paste(lines, collapse = "\n"), call = NULL, faults = faults)))
    }
    answer
  }

  list(ask = ask, call = call)
}
