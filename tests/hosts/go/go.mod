module lixivium.example/ask

go 1.19

require lixivium.example v0.0.0

replace lixivium.example => ../../../examples/go
