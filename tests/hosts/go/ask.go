// Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py.
package main

import (
	"bufio"
	"fmt"
	"log"
	"os"
	"strings"

	"lixivium.example/lixivium"
)

func main() {
	lines := bufio.NewScanner(os.Stdin)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		operation, request, _ := strings.Cut(lines.Text(), "\t")
		status, answer := lixivium.Ask(operation, []byte(request))
		fmt.Printf("%d\t%s\n", status, answer)
	}
	if err := lines.Err(); err != nil {
		log.Fatal(err)
	}
}
