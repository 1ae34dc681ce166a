// Package lixivium is exact soap arithmetic, through cgo.
//
//	err := lixivium.Call("plan", map[string]any{
//		"fats":     []any{map[string]any{"fat": "olive-oil", "mass": 500}},
//		"superfat": 5, "water": map[string]any{"lye_concentration": 33}}, &plan)
//
// Requests and answers are what encoding/json makes of JSON, or structs of your own; README.md
// describes them. pkg-config finds the library. Any goroutine may call.
package lixivium

/*
#cgo pkg-config: lixivium
#include <stdlib.h>
#include <lixivium.h>
*/
import "C"

import (
	"encoding/json"
	"strings"
	"unsafe"
)

// Number is a number of an answer: the nearest double, and the number itself as text, which
// math/big's Rat.SetString reads.
type Number struct {
	Value float64
	Exact string
}

// Fault is one thing that is wrong with a request.
type Fault struct{ Code, At, Says string }

// Error has all that is wrong with a request.
type Error struct{ Faults []Fault }

func (e *Error) Error() string {
	lines := make([]string, len(e.Faults))
	for i, fault := range e.Faults {
		lines[i] = strings.TrimPrefix(fault.At+": "+fault.Says, ": ")
	}
	return strings.Join(lines, "\n")
}

// Call carries out one operation and reads its answer into answer, a pointer. Where the request
// has faults, the error is an *Error.
func Call(operation string, request, answer any) error {
	text, err := json.Marshal(request)
	if err != nil {
		return err
	}
	status, text := Ask(operation, text)
	if status == C.LXV_OK {
		return json.Unmarshal(text, answer)
	}
	var refused struct{ Error Error }
	if err := json.Unmarshal(text, &refused); err != nil {
		return err
	}
	return &refused.Error
}

// Ask carries out one operation, JSON text in and out; it gives the status and the answer.
func Ask(operation string, request []byte) (int, []byte) {
	name, text := C.CString(operation), C.CBytes(request)
	defer C.free(unsafe.Pointer(name))
	defer C.free(text)
	var answer *C.char
	var bytes C.size_t
	status := C.lxv_call_n(name, C.size_t(len(operation)), (*C.char)(text),
		C.size_t(len(request)), &answer, &bytes)
	defer C.lxv_free(answer)
	return int(status), C.GoBytes(unsafe.Pointer(answer), C.int(bytes))
}

// Version is that of the library.
func Version() string { return C.GoString(C.lxv_version()) }
