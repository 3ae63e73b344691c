package tables

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strings"
)

// This file looks over the parts of a workbook before it is read (ECMA-376 part
// 1, SpreadsheetML): the library skips a sheet that is damaged, and takes a
// formula whose value was not stored for an empty cell.

// checkWorkbook reports the first part that is no XML, and the first formula
// without a value.
func checkWorkbook(file string, data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return faultf("%s: is not a workbook (.xlsx) that can be read: %v", file, err)
	}
	sheets, err := sheetParts(z)
	if err != nil {
		return faultf("%s: is not a workbook (.xlsx) that can be read: %v", file, err)
	}
	for _, part := range z.File {
		if !strings.HasPrefix(part.Name, "xl/") || path.Ext(part.Name) != ".xml" {
			continue
		}
		what := "part " + part.Name
		if name := sheets[part.Name]; name != "" {
			what = "sheet " + name
		}
		cell, err := readPart(part)
		switch {
		case err != nil:
			return faultf("%s, %s: is damaged: %v", file, what, err)
		case cell != "":
			return faultf("%s, %s, cell %s: its formula has no stored value; open the workbook in the program it is from and save it", file, what, cell)
		}
	}
	return nil
}

// readPart reads a part to its end and returns the first cell that has a formula
// and no value. A formula that gives an empty text has one.
func readPart(part *zip.File) (cell string, err error) {
	in, err := part.Open()
	if err != nil {
		return "", err
	}
	defer in.Close()
	d := xml.NewDecoder(io.LimitReader(in, 4*MostBytes))
	var at, kind string
	var formula, value, inValue bool
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return cell, nil
		}
		if err != nil {
			return "", err
		}
		switch t := token.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "c":
				at, kind, formula, value = attributeOf(t, "r"), attributeOf(t, "t"), false, false
			case "f":
				formula = true
			case "v":
				inValue = true
			}
		case xml.CharData:
			value = value || inValue
		case xml.EndElement:
			switch t.Name.Local {
			case "v":
				inValue = false
			case "c":
				if formula && !value && kind != "str" && cell == "" {
					cell = at
				}
				at = ""
			}
		}
	}
}

func attributeOf(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

// sheetParts are the names of the sheets by the parts that hold them.
func sheetParts(z *zip.Reader) (map[string]string, error) {
	var book struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			ID   string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		} `xml:"sheets>sheet"`
	}
	var rels struct {
		All []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	for name, into := range map[string]any{"xl/workbook.xml": &book, "xl/_rels/workbook.xml.rels": &rels} {
		in, err := z.Open(name)
		if err != nil {
			return nil, err
		}
		err = xml.NewDecoder(io.LimitReader(in, MostBytes)).Decode(into)
		in.Close()
		if err != nil {
			return nil, err
		}
	}
	parts := map[string]string{}
	for _, s := range book.Sheets {
		for _, r := range rels.All {
			if r.ID == s.ID {
				name := path.Join("xl", r.Target)
				if strings.HasPrefix(r.Target, "/") {
					name = r.Target[1:]
				}
				parts[name] = s.Name
			}
		}
	}
	return parts, nil
}
