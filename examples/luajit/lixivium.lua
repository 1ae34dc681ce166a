-- Lixivium from LuaJIT: exact soap arithmetic, through ffi. JSON by lua-cjson.
--
--     local soap = require("lixivium").load()      -- or .load("/where/liblixivium.so.1")
--     local plan = soap.call("plan", {fats = {{fat = "olive-oil", mass = 500}}, superfat = 5,
--                                     water = {lye_concentration = 33}})
--     print(plan.naoh_mass.value)                  -- the nearest double
--     print(plan.naoh_mass.exact)                  -- the number itself, as text
--
-- Requests and answers are tables, as README.md describes them. Numbers of a request go out with 14
-- digits, as lua-cjson writes them; one with more is given as text. The library is taken from the
-- path that is given, else from the environment variable LIXIVIUM_LIBRARY, else from where the
-- system looks for libraries.

local ffi = require("ffi")
local cjson = require("cjson")

local ABI_VERSION = 1

ffi.cdef [[
int32_t lxv_call_n(const char *operation, size_t operation_bytes, const char *request,
                   size_t request_bytes, char **answer, size_t *answer_bytes);
void lxv_free(char *answer);
const char *lxv_version(void);
uint32_t lxv_abi_version(void);
]]

-- What call() throws: a table whose `faults` has all that is wrong, each with code, at, says.
local Error = {}
Error.__index = Error
function Error:__tostring()
  local lines = {}
  for i, fault in ipairs(self.faults) do
    lines[i] = (fault.at == "" and "" or fault.at .. ": ") .. fault.says
  end
  return table.concat(lines, "\n")
end

local function load(path)
  local library = ffi.load(path or os.getenv("LIXIVIUM_LIBRARY") or "liblixivium.so.1")
  assert(library.lxv_abi_version() == ABI_VERSION, "liblixivium has another ABI")
  local soap = {version = ffi.string(library.lxv_version())}

  -- Carries out one operation, JSON text in and out; gives the status and the answer.
  function soap.ask(operation, request)
    local answer, bytes = ffi.new("char *[1]"), ffi.new("size_t[1]")
    local status = library.lxv_call_n(operation, #operation, request, #request, answer, bytes)
    local text = ffi.string(answer[0], bytes[0])
    library.lxv_free(answer[0])
    return status, text
  end

  -- Carries out one operation; throws an Error with all faults of the request.
  function soap.call(operation, request)
    local status, text = soap.ask(operation, cjson.encode(request))
    local answer = cjson.decode(text)
    if status ~= 0 then
      error(setmetatable({faults = answer.error.faults}, Error))
    end
    return answer
  end

  return soap
end

return {load = load, Error = Error}
