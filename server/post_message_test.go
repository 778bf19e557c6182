package server

import (
	"bytes"
	"io"
	"mime"
	netmail "net/mail"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-message"
	_ "github.com/emersion/go-message/charset" // reads what others write
	"github.com/emersion/go-message/mail"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models"
)

func testEnvelope(t testing.TB) envelope {
	t.Helper()
	e, err := newEnvelope(MailConfig{From: "Atelier Größe <post@studio.example>", ReplyTo: "odile@studio.example"}, "https://tenter.example")
	require.NoError(t, err)
	return e
}

var sentAt = time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC)

// written writes a letter as it goes over the wire.
func written(t testing.TB, l models.OutLetter) string {
	t.Helper()
	m, err := testEnvelope(t).message(l, sentAt)
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = m.WriteTo(&b)
	require.NoError(t, err)
	return b.String()
}

func overdue() models.OutLetter {
	return models.OutLetter{Letter: models.Letter{ID: "0194e9b8-0000-7000-8000-000000000001", Kind: models.LetterKind(models.RemindOverdue), Link: models.PageLink,
		Subject: "Jahreszeiten-Pullover für Größe 6½ – your report is overdue, which is said at some length so that the line has to be folded",
		Body:    "Dear Zoë & <b>co</b>,\n\nyour report was wanted.\r\n.\r\nFrom here on it is late.\n\n" + strings.Repeat("long ", 400) + "\n\nAtelier Größe"},
		Address: "zoe@reader.example", Name: "Zoë \"the\" Reader, née Größer", Studio: "Atelier Größe", StopToken: "a-token-nobody-guesses"}
}

// TestMessageIsReadByAnother: what goes out is read by net/mail and by
// github.com/emersion/go-message, which share nothing with what writes it.
func TestMessageIsReadByAnother(t *testing.T) {
	l := overdue()
	raw := written(t, l)
	lines := strings.Split(raw, "\r\n")
	for _, line := range lines {
		require.LessOrEqual(t, len(line), 998, "RFC 5322, section 2.1.1")
		require.NotContains(t, line, "\n")
		require.NotContains(t, line, "\r")
	}
	for i := range len(raw) {
		require.Less(t, raw[i], byte(0x80), "what is not ASCII is encoded")
	}
	m, err := netmail.ReadMessage(strings.NewReader(raw))
	require.NoError(t, err)
	// RFC 5322, section 3.6: one of each, and Date and From have to be there.
	for _, name := range []string{"Date", "From", "To", "Subject", "Message-Id", "Reply-To", "Mime-Version", "Content-Type"} {
		require.Len(t, m.Header[name], 1, name)
	}
	at, err := m.Header.Date()
	require.NoError(t, err)
	require.True(t, sentAt.Equal(at))
	from, err := m.Header.AddressList("From")
	require.NoError(t, err)
	require.Equal(t, []*netmail.Address{{Name: "Atelier Größe", Address: "post@studio.example"}}, from)
	to, err := m.Header.AddressList("To")
	require.NoError(t, err)
	require.Equal(t, []*netmail.Address{{Name: l.Name, Address: l.Address}}, to)
	require.Equal(t, "<0194e9b8-0000-7000-8000-000000000001@studio.example>", m.Header.Get("Message-Id"))
	subject, err := new(mime.WordDecoder).DecodeHeader(m.Header.Get("Subject")) // RFC 2047
	require.NoError(t, err)
	require.Equal(t, l.Subject, subject)
	require.Equal(t, "auto-generated", m.Header.Get("Auto-Submitted")) // RFC 3834, section 5

	plain, html := parts(t, raw)
	require.Contains(t, plain, "Dear Zoë & <b>co</b>,\n\nyour report was wanted.\n.\nFrom here on it is late.\n\nlong long ")
	require.Contains(t, plain, "Your page:\nhttps://tenter.example/my\n")
	require.Contains(t, html, "Dear Zoë &amp; &lt;b&gt;co&lt;/b&gt;,")
	require.Contains(t, html, `<a href="https://tenter.example/my">`)
	require.NotContains(t, html, "<b>")
	require.NotRegexp(t, regexp.MustCompile(`(?i)<(img|script|link|iframe|object|form|input)|url\(|@import|src=`), html, "nothing is fetched, nothing runs")
	for _, part := range []string{plain, html} {
		require.Contains(t, part, "https://tenter.example/api/v1/letters/stop/a-token-nobody-guesses")
	}
}

// parts reads both alternatives, the plain one first: RFC 2046, section 5.1.4.
func parts(t testing.TB, raw string) (plain, html string) {
	t.Helper()
	whole, err := message.Read(strings.NewReader(raw))
	require.NoError(t, err)
	kind, _, err := whole.Header.ContentType()
	require.NoError(t, err)
	require.Equal(t, "multipart/alternative", kind)
	r := mail.NewReader(whole)
	var kinds, texts []string
	for {
		p, err := r.NextPart()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		text, err := io.ReadAll(p.Body)
		require.NoError(t, err)
		header := p.Header.(*mail.InlineHeader)
		kind, params, err := header.ContentType()
		require.NoError(t, err)
		require.True(t, strings.EqualFold("utf-8", params["charset"]))
		kinds, texts = append(kinds, kind), append(texts, strings.ReplaceAll(string(text), "\r\n", "\n"))
	}
	require.Equal(t, []string{"text/plain", "text/html"}, kinds)
	return texts[0], texts[1]
}

// TestOneClickHeaders holds the headers against RFC 8058 (January 2017), by
// its sections, from memory. What section 4 asks for, a DKIM signature over
// both headers, is the mail server's to make; README says so.
func TestOneClickHeaders(t *testing.T) {
	m, err := netmail.ReadMessage(strings.NewReader(written(t, overdue())))
	require.NoError(t, err)
	// Section 3.1: List-Unsubscribe has one HTTPS URI, with an identifier that
	// is hard to forge; RFC 2369, section 2: between angle brackets.
	require.Equal(t, []string{"<https://tenter.example/api/v1/letters/stop/a-token-nobody-guesses>"}, m.Header["List-Unsubscribe"])
	// Sections 3.1 and 5: List-Unsubscribe-Post has this pair and nothing else.
	require.Equal(t, []string{"List-Unsubscribe=One-Click"}, m.Header["List-Unsubscribe-Post"])

	asked := overdue()
	asked.Kind, asked.StopToken = models.LetterInvitation, ""
	m, err = netmail.ReadMessage(strings.NewReader(written(t, asked)))
	require.NoError(t, err)
	require.NotContains(t, m.Header, "List-Unsubscribe", "what somebody must get has no such header")
	require.NotContains(t, m.Header, "List-Unsubscribe-Post")

	plainly := testEnvelope(t)
	plainly.base = "http://127.0.0.1:8080"
	letter, err := plainly.message(overdue(), sentAt)
	require.NoError(t, err)
	require.Empty(t, letter.GetGenHeader("List-Unsubscribe"), "not without HTTPS")
}

func TestNothingIsPutIntoAHeader(t *testing.T) {
	for name, spoil := range map[string]func(*models.OutLetter){
		"a line end in the subject":     func(l *models.OutLetter) { l.Subject = "Hello\r\nBcc: all@reader.example" },
		"a bare line feed":              func(l *models.OutLetter) { l.Subject = "Hello\nBcc: all@reader.example" },
		"a bare carriage return":        func(l *models.OutLetter) { l.Subject = "Hello\rBcc: all@reader.example" },
		"a line separator":              func(l *models.OutLetter) { l.Subject = "Hello\u2028Bcc" },
		"a line end in the name":        func(l *models.OutLetter) { l.Name = "Zoë\r\nBcc: all@reader.example" },
		"a line end in the address":     func(l *models.OutLetter) { l.Address = "zoe@reader.example\r\nRCPT TO:<all@reader.example>" },
		"two addresses":                 func(l *models.OutLetter) { l.Address = "zoe@reader.example, all@reader.example" },
		"an address with a name":        func(l *models.OutLetter) { l.Address = "Zoë <zoe@reader.example>" },
		"an address that is none":       func(l *models.OutLetter) { l.Address = "zoe" },
		"a subject that is no text":     func(l *models.OutLetter) { l.Subject = "Hello \xff" },
		"a subject that goes backwards": func(l *models.OutLetter) { l.Subject = "Hello \u202eolleH" },
		"an empty subject":              func(l *models.OutLetter) { l.Subject = " " },
		"a subject without end":         func(l *models.OutLetter) { l.Subject = strings.Repeat("x", 301) },
		"a name of a letter":            func(l *models.OutLetter) { l.ID = "1>\r\nBcc: x" },
	} {
		t.Run(name, func(t *testing.T) {
			l := overdue()
			spoil(&l)
			_, err := testEnvelope(t).message(l, sentAt)
			var unwritable *unwritableError
			require.ErrorAs(t, err, &unwritable)
			require.True(t, (&notTaken{"message", err}).forGood(), "trying again would not mend it")
		})
	}
}

// TestWhateverStandsInALetter: either it is refused or another program reads
// the same subject, the same one reader, and no header more.
func TestWhateverStandsInALetter(t *testing.T) {
	for name, l := range map[string][4]string{
		"a line break":         {"Hello\r\nBcc: x@y.example", "Zoë", "zoe@reader.example", "\r\n.\r\n"},
		"a backslash":          {"Hello", `\Ž`, "zoe@reader.example", "Hello"},
		"what looks encoded":   {"=?utf-8?q?=0d=0aBcc:_x?=", "=?utf-8?b?DQo=?=", "z+o.e@reader.example", "--\r\n--boundary--"},
		"as long as it may be": {strings.Repeat("ä", 300), strings.Repeat("\"", 200), "ж@reader.example", strings.Repeat("x", 2000)},
	} {
		t.Run(name, func(t *testing.T) { requireWholeOrRefused(t, l[0], l[1], l[2], l[3]) })
	}
	t.Run("anything", func(t *testing.T) {
		rapid.Check(t, func(r *rapid.T) {
			words := rapid.OneOf(rapid.String(), rapid.StringMatching(`[ =?_a-zäж"<>,;:\\\r\n\t-]{0,80}`))
			address := rapid.OneOf(rapid.StringMatching(`[a-zж.+"-]{1,12}@[a-z]{1,8}\.example`), rapid.String())
			requireWholeOrRefused(r, words.Draw(r, "subject"), words.Draw(r, "name"), address.Draw(r, "address"), words.Draw(r, "body"))
		})
	})
}

func requireWholeOrRefused(t require.TestingT, subject, name, address, body string) {
	if !utf8.ValidString(body) || strings.ContainsRune(body, 0) {
		return // the store keeps none of these
	}
	l := overdue()
	l.Subject, l.Name, l.Address, l.Body = subject, name, address, body
	e, err := newEnvelope(MailConfig{From: "Atelier Größe <post@studio.example>", ReplyTo: "odile@studio.example"}, "https://tenter.example")
	require.NoError(t, err)
	m, err := e.message(l, sentAt)
	if err != nil {
		return
	}
	var b bytes.Buffer
	_, err = m.WriteTo(&b)
	require.NoError(t, err)
	for _, line := range strings.Split(b.String(), "\r\n") {
		require.LessOrEqual(t, len(line), 998)
		require.False(t, strings.ContainsAny(line, "\r\n"))
	}
	read, err := netmail.ReadMessage(&b)
	require.NoError(t, err)
	require.Len(t, read.Header, 11, "%v", read.Header)
	for name, values := range read.Header {
		require.Len(t, values, 1, name)
	}
	got, err := new(mime.WordDecoder).DecodeHeader(read.Header.Get("Subject"))
	require.NoError(t, err)
	require.Equal(t, strings.Join(strings.Fields(decodedOnce(subject)), " "), strings.Join(strings.Fields(got), " "))
	to, err := read.Header.AddressList("To")
	require.NoError(t, err)
	require.Len(t, to, 1)
	require.Equal(t, address, to[0].Address)
}

// decodedOnce is what a reader makes of a subject that looks encoded itself and
// is sent as it stands.
func decodedOnce(s string) string {
	for _, r := range s {
		if r >= utf8.RuneSelf {
			return s
		}
	}
	decoded, err := new(mime.WordDecoder).DecodeHeader(s)
	if err != nil {
		return s
	}
	return decoded
}
