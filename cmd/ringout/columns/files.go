package columns

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strconv"
	"strings"

	"ringout/cmd/ringout/tell"
	"ringout/model/finding"
	"ringout/model/tables"
)

// This file reads files from disk.

// sheetsOf reads all sheets of one file. Title is the name that a workbook bears, if any.
func sheetsOf(file string) (sheets []*tables.Sheet, title string, err error) {
	data, err := readLimited(file)
	if err != nil {
		return nil, "", err
	}
	sheets, title, err = tables.Read(file, data)
	if fault := (*tables.Fault)(nil); errors.As(err, &fault) {
		return nil, "", tell.WrongUsef("%v", fault)
	}
	return sheets, title, err
}

// ReadText is the text of a file, without a byte order mark.
func ReadText(file string) (string, error) {
	data, err := readLimited(file)
	if err != nil {
		return "", err
	}
	data, at, fault := finding.Text(file, data)
	switch {
	case fault != "":
		return "", tell.WrongUsef("%s: %s", at, fault)
	case len(bytes.TrimSpace(data)) == 0:
		return "", tell.WrongUsef("%s: is empty", file)
	}
	return string(data), nil
}

func readLimited(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, tell.WrongUsef("%s: cannot be read: %v", file, tell.Reason(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, tables.MostBytes+1))
	switch {
	case err != nil:
		return nil, tell.WrongUsef("%s: cannot be read: %v", file, tell.Reason(err))
	case len(data) > tables.MostBytes:
		return nil, tell.WrongUsef("%s: is larger than %d MB", file, tables.MostBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, tell.WrongUsef("%s: is empty", file)
	}
	return data, nil
}

// Spans are numbers in words: 3, 5..8 and 12.
func Spans(ns []int) string {
	const most = 12
	var all []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		if j > i {
			all = append(all, strconv.Itoa(ns[i])+".."+strconv.Itoa(ns[j]))
		} else {
			all = append(all, strconv.Itoa(ns[i]))
		}
		i = j + 1
	}
	if len(all) > most {
		return tell.Names(all, ", ")
	}
	if last := len(all) - 1; last > 0 {
		return strings.Join(all[:last], ", ") + " and " + all[last]
	}
	return strings.Join(all, "")
}
