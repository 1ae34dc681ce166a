-- A batch sheet from LuaJIT: reads a recipe, plans it, prints what to weigh.
--
--     luajit sheet.lua ../recipes/winter-fair.json
--
-- lixivium.lua beside it says how the library is found; it needs lua-cjson. The recipe is an
-- invented batch for a winter fair.

package.path = (arg[0]:match("^.*/") or "./") .. "?.lua;" .. package.path
local cjson = require("cjson")
local lixivium = require("lixivium")

local function line(number, unit, name)
  print(("%10.2f %s  %s"):format(number.value, unit, name))
end

local function print_sheet(plan)
  for _, caution in ipairs(plan.cautions) do
    print("! " .. caution.says)
  end
  line(plan.water_to_add_mass, "g", "Water")
  line(plan.naoh_mass, "g", "Sodium hydroxide, into the water")
  line(plan.koh_mass, "g", "Potassium hydroxide, into the water")
  for _, list in ipairs {plan.fats, plan.acids, plan.additives} do
    for _, item in ipairs(list) do
      line(item.mass, "g", item.name)
    end
  end
  line(plan.batter_mass, "g", "Batter, all together")
  line(plan.superfat, "%", "Superfat, as weighed")
  line(plan.lye_concentration, "%", "Lye concentration, as weighed")
end

local file = arg[1] and io.open(arg[1])
if not file then
  io.stderr:write("usage: sheet.lua RECIPE.json\n")
  os.exit(2)
end
local recipe = cjson.decode(file:read("*a"))
local planned, plan = pcall(lixivium.load().call, "plan", recipe)
if not planned then
  io.stderr:write(tostring(plan), "\n")
  os.exit(1)
end
print_sheet(plan)
