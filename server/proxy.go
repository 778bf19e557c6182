package server

import (
	"context"
	"fmt"
	"net/netip"
	"strings"

	"github.com/gin-gonic/gin"
)

// told are the headers in which a reverse proxy tells whom it speaks for. From
// anybody else they are words.
var told = []string{"X-Forwarded-For", "X-Forwarded-Proto", "X-Forwarded-Host", "X-Real-Ip", "Forwarded"}

// proxies are the reverse proxies that are believed.
type proxies []netip.Prefix

func readProxies(texts []string) (proxies, error) {
	var out proxies
	for _, text := range texts {
		text = strings.TrimSpace(text)
		if ip, err := netip.ParseAddr(text); err == nil {
			ip = ip.Unmap()
			out = append(out, netip.PrefixFrom(ip, ip.BitLen()))
			continue
		}
		network, err := netip.ParsePrefix(text)
		if err != nil {
			return nil, &SettingError{"TENTER_TRUSTED_PROXIES", fmt.Sprintf("%q is no address and no network; write them like 10.0.0.1 or 10.0.0.0/8", text)}
		}
		out = append(out, network.Masked())
	}
	return out, nil
}

func (p proxies) include(address string) bool {
	ip, err := netip.ParseAddr(address)
	if err != nil {
		return false
	}
	ip = ip.Unmap().WithZone("")
	for _, network := range p {
		if network.Contains(ip) {
			return true
		}
	}
	return false
}

type addressKey struct{}

// located takes what strangers say of themselves off the request, and notes the
// network that it comes from: of a chain of proxies, the nearest address that
// is none of ours.
func (s *Server) located(c *gin.Context) {
	if !s.proxies.include(c.RemoteIP()) {
		for _, name := range told {
			c.Request.Header.Del(name)
		}
	}
	c.Request = c.Request.WithContext(context.WithValue(c.Request.Context(), addressKey{}, network(c.ClientIP())))
	c.Next()
}

func addressIn(ctx context.Context) string {
	address, _ := ctx.Value(addressKey{}).(string)
	return address
}
