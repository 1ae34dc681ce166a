module lixivium.example

go 1.19
