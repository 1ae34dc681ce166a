# A batch sheet from R: reads a recipe, plans it, prints what to weigh.
#
#     Rscript sheet.R ../recipes/winter-fair.json
#
# lixivium.R beside it says how the glue lixivium.so is built. The recipe is an invented batch for
# a winter fair.

here <- dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)))
source(file.path(here, "lixivium.R"))

line <- function(number, unit, name) cat(sprintf("%10.2f %s  %s\n", number$value, unit, name))

print_sheet <- function(plan) {
  for (caution in plan$cautions) cat("! ", caution$says, "\n", sep = "")
  line(plan$water_to_add_mass, "g", "Water")
  line(plan$naoh_mass, "g", "Sodium hydroxide, into the water")
  line(plan$koh_mass, "g", "Potassium hydroxide, into the water")
  for (item in c(plan$fats, plan$acids, plan$additives)) line(item$mass, "g", item$name)
  line(plan$batter_mass, "g", "Batter, all together")
  line(plan$superfat, "%", "Superfat, as weighed")
  line(plan$lye_concentration, "%", "Lye concentration, as weighed")
}

arguments <- commandArgs(trailingOnly = TRUE)
if (length(arguments) != 1) {
  message("usage: Rscript sheet.R RECIPE.json")
  quit(status = 2)
}
glue <- Sys.getenv("LIXIVIUM_GLUE", file.path(here, "lixivium.so"))
recipe <- jsonlite::fromJSON(arguments, simplifyVector = FALSE)
tryCatch(
  print_sheet(lixivium(glue)$call("plan", recipe)),
  lixivium_error = function(error) {
    message(conditionMessage(error))
    quit(status = 1)
  }
)
