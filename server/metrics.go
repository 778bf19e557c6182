package server

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"tenter/models"
)

// metrics counts requests by route, never by address or person.
type metrics struct {
	registry *prometheus.Registry
	requests *prometheus.HistogramVec
}

func newMetrics() *metrics {
	m := &metrics{registry: prometheus.NewRegistry(), requests: prometheus.NewHistogramVec(prometheus.HistogramOpts{
		Name: "tenter_request_seconds", Help: "Time to answer, by route and status.", Buckets: prometheus.DefBuckets,
	}, []string{"method", "route", "status"})}
	m.registry.MustRegister(m.requests, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

func (m *metrics) observe(method, route string, status int, took time.Duration) {
	m.requests.WithLabelValues(method, route, strconv.Itoa(status)).Observe(took.Seconds())
}

// letterCount tells how many letters there are, from the database at each
// asking: several servers may send them.
type letterCount struct {
	store *models.Store
	desc  *prometheus.Desc
}

func (m *metrics) countLetters(store *models.Store) {
	m.registry.MustRegister(letterCount{store, prometheus.NewDesc("tenter_letters", "Letters by e-mail, by what became of them.", []string{"state"}, nil)})
}

// Describe names the one metric.
func (l letterCount) Describe(out chan<- *prometheus.Desc) { out <- l.desc }

// Collect counts. When the database does not answer, nothing is told.
func (l letterCount) Collect(out chan<- prometheus.Metric) {
	ctx, cancel := context.WithTimeout(context.Background(), countWithin)
	defer cancel()
	counts, err := l.store.CountLetters(ctx)
	if err != nil {
		out <- prometheus.NewInvalidMetric(l.desc, err)
		return
	}
	for _, state := range models.LetterStates() {
		out <- prometheus.MustNewConstMetric(l.desc, prometheus.GaugeValue, float64(counts[state]), string(state))
	}
}

const countWithin = 5 * time.Second

func (m *metrics) handler() http.Handler {
	return promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{ErrorHandling: promhttp.ContinueOnError})
}
