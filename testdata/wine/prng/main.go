// Command prng writes a bcryptprimitives.dll for a Wine that has none (before Wine 9; Debian
// 12 has 8), where no program of Go 1.22 or later would start.
//
//	go run ./testdata/wine/prng FILE
//
// The library has no code: its one function, ProcessPrng(buffer, length), is passed on to
// advapi32's SystemFunction036, which takes the same and fills the buffer with random bytes.
// The layout is that of "PE Format" in Microsoft's documentation.
package main

import (
	"bytes"
	"debug/pe"
	"encoding/binary"
	"log"
	"os"
)

const (
	page    = 0x1000 // where the one section lies in memory, and how things are aligned there
	inFile  = 0x200  // where it lies in the file
	library = "bcryptprimitives.dll\x00"
	name    = "ProcessPrng\x00"
	forward = "advapi32.SystemFunction036\x00"
)

func main() {
	if len(os.Args) != 2 {
		log.Fatal("usage: prng FILE")
	}
	if err := os.WriteFile(os.Args[1], image(), 0o644); err != nil {
		log.Fatal(err)
	}
}

func image() []byte {
	exports := exportSection()
	var b bytes.Buffer
	put := func(v any) { binary.Write(&b, binary.LittleEndian, v) } //nolint:errcheck // a Buffer takes all

	dos := make([]byte, 64)
	copy(dos, "MZ")
	dos[0x3c] = 64 // where the next header begins
	put(dos)
	put([]byte("PE\x00\x00"))
	put(pe.FileHeader{
		Machine: pe.IMAGE_FILE_MACHINE_AMD64, NumberOfSections: 1,
		SizeOfOptionalHeader: uint16(binary.Size(pe.OptionalHeader64{})),
		Characteristics:      pe.IMAGE_FILE_EXECUTABLE_IMAGE | pe.IMAGE_FILE_LARGE_ADDRESS_AWARE | pe.IMAGE_FILE_DLL,
	})
	h := pe.OptionalHeader64{
		Magic: 0x20b, ImageBase: 0x180000000, SectionAlignment: page, FileAlignment: inFile,
		MajorOperatingSystemVersion: 6, MajorSubsystemVersion: 6, Subsystem: pe.IMAGE_SUBSYSTEM_WINDOWS_CUI,
		SizeOfInitializedData: inFile, SizeOfImage: 2 * page, SizeOfHeaders: inFile, NumberOfRvaAndSizes: 16,
	}
	h.DataDirectory[pe.IMAGE_DIRECTORY_ENTRY_EXPORT] = pe.DataDirectory{VirtualAddress: page, Size: uint32(len(exports))}
	put(h)
	section := pe.SectionHeader32{
		VirtualSize: uint32(len(exports)), VirtualAddress: page, SizeOfRawData: inFile, PointerToRawData: inFile,
		Characteristics: pe.IMAGE_SCN_CNT_INITIALIZED_DATA | pe.IMAGE_SCN_MEM_READ,
	}
	copy(section.Name[:], ".edata")
	put(section)
	b.Write(make([]byte, inFile-b.Len()))
	b.Write(exports)
	b.Write(make([]byte, 2*inFile-b.Len()))
	return b.Bytes()
}

// exportSection is the table of one function. An address inside the table itself is that of a
// name to pass the call on to.
func exportSection() []byte {
	const tables = 40 // bytes of the directory, which come first
	at := struct{ functions, names, ordinals, library, name, forward uint32 }{functions: page + tables}
	at.names = at.functions + 4
	at.ordinals = at.names + 4
	at.library = at.ordinals + 2
	at.name = at.library + uint32(len(library))
	at.forward = at.name + uint32(len(name))
	var b bytes.Buffer
	for _, v := range []uint32{
		0, 0, 0, at.library, 1, 1, 1, at.functions, at.names, at.ordinals, // the directory
		at.forward, at.name,
	} {
		binary.Write(&b, binary.LittleEndian, v) //nolint:errcheck // a Buffer takes all
	}
	b.Write([]byte{0, 0})
	b.WriteString(library + name + forward)
	return b.Bytes()
}
