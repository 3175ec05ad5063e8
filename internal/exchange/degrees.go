package exchange

import (
	"regexp"
	"strconv"
	"strings"
)

// degrees is one coordinate as written.
type degrees struct {
	value float64 // WGS 84
	axis  byte    // 'N' for a latitude, 'E' for a longitude by its letter; 0: not said
	fine  bool    // written with a fraction, minutes or a letter
}

// longestCoordinate is how many bytes a coordinate may take; longer texts are
// not looked at.
const longestCoordinate = 50

var degreesForm = regexp.MustCompile(`^([NSEW])? ?([+-])? ?(\d{1,3}(?:\.\d+)?)(?: ?(?:°|DEG|D) ?| |$|([NSEW])$)` +
	`(?:(\d{1,2}(?:\.\d+)?) ?(?:'|M)? ?(?:(\d{1,2}(?:\.\d+)?) ?(?:"|'')? ?)?)?([NSEW])?$`)

// readDegrees reads 54.21334, 54,21334, -2.338, 54°12.741'N, 2°20'16.5" W and
// N54 12.741. Minutes and seconds are below 60; only the last of degrees,
// minutes and seconds may have a fraction. Whether the value is a possible
// latitude is not looked at, beyond ±180.
func readDegrees(text string) (degrees, bool) {
	if len(text) > longestCoordinate {
		return degrees{}, false
	}
	s := strings.ToUpper(plain(text))
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	m := degreesForm.FindStringSubmatch(s)
	if m == nil {
		return degrees{}, false
	}
	d := degrees{fine: m[5] != "" || strings.Contains(m[3], ".")}
	value, ok := sexagesimal(m[3], m[5], m[6])
	letter := m[1] + m[4] + m[7]
	if !ok || value > 180 || len(letter) > 1 || letter != "" && m[2] != "" {
		return degrees{}, false
	}
	switch letter {
	case "N", "S":
		d.axis = 'N'
	case "E", "W":
		d.axis = 'E'
	}
	d.fine = d.fine || d.axis != 0
	if letter == "S" || letter == "W" || m[2] == "-" {
		value = -value
	}
	d.value = value
	return d, true
}

// sexagesimal adds up degrees, minutes and seconds, the last two possibly "".
func sexagesimal(deg, minutes, seconds string) (float64, bool) {
	if minutes != "" && strings.Contains(deg, ".") || seconds != "" && strings.Contains(minutes, ".") {
		return 0, false
	}
	sum, scale := 0.0, 1.0
	for _, part := range []string{deg, minutes, seconds} {
		if part == "" {
			break
		}
		n, err := strconv.ParseFloat(part, 64)
		if err != nil || scale > 1 && n >= 60 {
			return 0, false
		}
		sum += n / scale
		scale *= 60
	}
	return sum, true
}

// readPair reads latitude and longitude in one cell, "54.2, -2.3" or "54,2;
// -2,3" or "N54 12.741 W2 20.274". It reports false where the cell can be cut
// in two in more than one way.
func readPair(text string) (lat, lon degrees, ok bool) {
	if len(text) > 2*longestCoordinate {
		return degrees{}, degrees{}, false
	}
	s := strings.Trim(tidy(text), " ()[]")
	found := 0
	for at, c := range s {
		if !strings.ContainsRune(",;/ |", c) {
			continue
		}
		first, second := s[:at], strings.TrimLeft(s[at+1:], " ")
		a, ok1 := readDegrees(first)
		b, ok2 := readDegrees(second)
		if !ok1 || !ok2 || found > 0 && a == lat && b == lon {
			continue
		}
		lat, lon = a, b
		found++
	}
	if found != 1 {
		return degrees{}, degrees{}, false
	}
	if lat.axis == 'E' && lon.axis != 'E' || lat.axis == 0 && lon.axis == 'N' {
		lat, lon = lon, lat
	}
	return lat, lon, lat.axis != 'E' && lon.axis != 'N'
}
