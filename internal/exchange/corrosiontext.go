package exchange

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteCorrosionText writes an estimate of corrosion for a terminal: a line for
// each metal, what makes it less certain, where the figures come from, and the
// caution.
func WriteCorrosionText(w io.Writer, r report.Corrosion) error {
	var b bytes.Buffer
	c := r.Climate
	fmt.Fprintf(&b, "%s °C, %s %% relative humidity, sulphur dioxide %s and chloride %s mg/(m² d): classes %s and %s\n%s\n\n",
		figure(c.TemperatureC), figure(c.HumidityPct), figure(c.SulphurDioxide), figure(c.Chloride), r.SulphurClass, r.ChlorideClass,
		wording.CorrosionHelp)
	writeMetals(&b, r)
	if len(r.Warnings) > 0 {
		b.WriteString("\nLess certain because:\n")
		for _, x := range r.Warnings {
			fmt.Fprintf(&b, "  %s\n", wording.CorrosionWarning(x.Code, x.Values))
		}
	}
	b.WriteString("\nSources:\n")
	for _, s := range r.Sources {
		fmt.Fprintf(&b, "  %s: %s (%s)\n", s.Title, s.Covers, confidence(s.Confidence))
	}
	fmt.Fprintf(&b, "\n%s\n", wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write estimate of corrosion: %w", err)
	}
	return nil
}

func writeMetals(b *bytes.Buffer, r report.Corrosion) {
	heads := []string{"METAL", "FIRST YEAR, µm", "CATEGORY", "CAN LIE BETWEEN, µm", "CATEGORIES"}
	if r.Years != nil {
		heads = append(heads, "LOST IN "+figure(*r.Years)+" YEARS, µm", "UPPER LIMIT, µm")
	}
	rows := [][]string{heads}
	for _, m := range r.Metals {
		cells := []string{
			metalName(m.Name), fmt.Sprintf("%.4g", m.RateUM), m.Category,
			fmt.Sprintf("%.3g to %.3g", m.LowUM, m.HighUM), m.LowCategory + " to " + m.HighCategory,
		}
		if m.LossUM != nil {
			cells = append(cells, fmt.Sprintf("%.4g", m.LossUM.B1), fmt.Sprintf("%.4g", m.LossUM.B2))
		}
		rows = append(rows, cells)
	}
	align(b, "", rows)
}

// confidence says how a figure is known.
func confidence(word string) string {
	switch word {
	case "found":
		return "seen in a source"
	case "partly":
		return "partly seen in a source"
	case "memory":
		return "from memory: check it against the standard"
	}
	return word
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// metalName reads "carbon_steel" as "Carbon steel".
func metalName(name string) string { return wording.Rule(strings.ReplaceAll(name, "_", "-")) }
