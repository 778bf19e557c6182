package fit

import "testing"

// BenchmarkTwelveSizesTenPointsSixtyTesters is the largest ordinary round, with
// four count faults and all nuisances: meant to take under 50 ms and 32 MB.
func BenchmarkTwelveSizesTenPointsSixtyTesters(b *testing.B) {
	rounds := make([]Input, 16)
	for i := range rounds {
		rounds[i] = madeRound{sizes: 12, stitchPoints: 5, rowPoints: 5, testers: 60, faults: 4, nuisances: true}.make(uint64(i))
	}
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; b.Loop(); i++ {
		if _, err := Calculate(rounds[i%len(rounds)]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThreeSizesSevenPointsTwelveTesters(b *testing.B) {
	in := madeRound{sizes: 3, stitchPoints: 3, rowPoints: 4, testers: 12, faults: 1, nuisances: true}.make(1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Calculate(in); err != nil {
			b.Fatal(err)
		}
	}
}
