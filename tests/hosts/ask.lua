-- Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py.

package.path = arg[0]:match("^.*/") .. "../../examples/luajit/?.lua;" .. package.path
local soap = require("lixivium").load()

for line in io.lines() do
  local status, answer = soap.ask(line:match("^(.-)\t(.*)$"))
  io.write(status, "\t", answer, "\n")
end
