package models

import "strings"

// A browser's own words name several others that it wants to be taken for, so
// the first of these that is found is the one (common practice). Each is a mark
// in the words and what people call it.
var (
	browserMarks = [][2]string{
		{"EdgA/", "Edge"}, {"EdgiOS/", "Edge"}, {"Edg/", "Edge"}, {"OPR/", "Opera"}, {"SamsungBrowser/", "Samsung Internet"}, {"FxiOS/", "Firefox"}, {"Firefox/", "Firefox"},
		{"CriOS/", "Chrome"}, {"Chromium/", "Chromium"}, {"Chrome/", "Chrome"}, {"Safari/", "Safari"}, {"curl/", "curl"}, {"Go-http-client", "a program"}, {"python", "a program"},
	}
	systemMarks = [][2]string{
		{"iPhone", "iPhone"}, {"iPad", "iPad"}, {"Android", "Android"}, {"CrOS", "a Chromebook"}, {"Windows", "Windows"}, {"Macintosh", "a Mac"}, {"Linux", "Linux"},
	}
)

const unknownDevice = "a browser or program that does not say what it is"

// DeviceWords says in plain words what a browser says of itself, which may be
// anything: only words of ours come out.
func DeviceWords(agent string) string {
	browser, system := markIn(agent, browserMarks), markIn(agent, systemMarks)
	switch {
	case browser == "" && system == "":
		return unknownDevice
	case browser == "":
		return "a browser on " + system
	case system == "":
		return browser
	}
	return browser + " on " + system
}

func markIn(agent string, marks [][2]string) string {
	for _, m := range marks {
		if strings.Contains(agent, m[0]) {
			return m[1]
		}
	}
	return ""
}
