package models

import "net/netip"

// nowhere are networks that lead to this machine, to its neighbours or to
// nobody: what the IANA's registries of special-purpose addresses say is not
// globally reachable (RFC 6890 and
// https://www.iana.org/assignments/iana-ipv4-special-registry,
// https://www.iana.org/assignments/iana-ipv6-special-registry), besides those
// that net/netip itself tells. The ways over which IPv6 carries an IPv4
// address are among them, since that could be any of these.
var nowhere = []string{
	"0.0.0.0/8", "100.64.0.0/10", "192.0.0.0/24", "192.0.2.0/24", "192.88.99.0/24", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24", "240.0.0.0/4",
	"::/96", "64:ff9b::/96", "64:ff9b:1::/48", "100::/64", "2001::/23", "2001:db8::/32", "2002::/16", "3fff::/20", "5f00::/16", "fec0::/10",
}

// MayTell tells whether a notice may go to an address: any that the whole
// internet reaches, and what the server's settings allow beside. Without this,
// whoever may add a webhook could make the server knock at doors that only it
// can reach.
func MayTell(to netip.Addr, allowed []netip.Prefix) bool {
	to = to.Unmap().WithZone("")
	for _, p := range allowed {
		if p.Contains(to) {
			return true
		}
	}
	if !to.IsGlobalUnicast() || to.IsPrivate() {
		return false
	}
	for _, p := range nowhere {
		if netip.MustParsePrefix(p).Contains(to) {
			return false
		}
	}
	return true
}
