// The shapes of the API's answers about fit and yarn, for the type check only:
// this file is not served.
import type { Design, Gauge, Length, View } from './shapes.js';
import type { Amount } from './shapes-testing.js';

export interface CountOffset { unit: string; count: number; estimate: number; lo: number; hi: number }
export interface FindingNumbers {
  verdict: string; estimate_pct?: number; lo_pct?: number; hi_pct?: number; p?: number; reports?: number;
  measured_cm?: number; signature?: string; sizes?: string[]; as_count?: CountOffset;
}
export interface Decision {
  id: string; key: string; kind: string; choice: 'accepted' | 'rejected' | 'left'; reason: string; message: string;
  who: string; decided_at: string; revision: number;
}
export interface Finding {
  key: string; kind: 'cell' | 'point' | 'grading' | 'tester' | 'odd_value' | 'readings' | 'fabric'; verdict: string; axis?: 'stitch' | 'row';
  size_id?: string; size?: string; point_id?: string; point?: string; assignment_id?: string; report_id?: string; who?: string;
  message: string; numbers: FindingNumbers; asks: boolean; waits: boolean; more_reports?: number; counts?: string[];
  decision: Decision | null; reopened?: string;
}
export interface Piece {
  assignment_id: string; report_id: string; who: string; size_id: string; size: string; version: number; number: number;
  sent_at: string; approved: boolean; swatch: Gauge | null; measured: number;
}
export interface Line {
  report_id: string; assignment_id: string; who: string; size_id: string; point_id: string; point: string; axis: 'stitch' | 'row';
  measured: Length; measured_cm: number; readings: number; expected_design_cm: number; expected_own_cm: number;
  likely_cm: number; low_cm: number; high_cm: number; odd: boolean;
}
export interface SheetMiss { point_id: string; size_id: string; size: string; intended_cm: number; expected_cm: number; limit_cm: number }
export interface Request {
  id: string; assignment_id: string; who: string; size_id: string; point_id: string | null; point: string; why: string; asked_at: string;
  was: Length | null; answered_at: string | null; report_id: string | null; now: Length | null; same: boolean; withdrawn_at: string | null; revision: number;
}
export type DesignLine = Pick<Design, 'id' | 'slug' | 'name' | 'craft' | 'audience' | 'terms' | 'unit' | 'gauge'>;
export interface Fit {
  today: string; design: DesignLine; version: { id: string; number: number; given_out_at: string | null }; of: string; problem?: string;
  undecided: number; findings: Finding[]; gone: Decision[]; pieces: Piece[]; lines: Line[]; sheet: SheetMiss[]; requests: Request[];
  clear_cells: number; judged_cells: number;
}
/** What the sections of the Fit page stand on. */
export interface Bench {
  view: View; path: string; slug: string; fit: Fit; corrections: import('./shapes-corrections.js').Correction[]; may: boolean; unit: 'cm' | 'in';
  sizeName: (id: string) => string; refresh: () => Promise<void>;
}

/** One row of a finding's picture: a piece (or a point, or a size) on its own tape, in cm. */
export interface TapeRow {
  name: string; href?: string; centre: number; low: number; high: number; at: number; percent: boolean;
  odd: boolean; here: boolean; measured: string; expected: string; off: string;
}

export interface YarnSize {
  size_id: string; size: string; stitches: number; basis: 'testers' | 'swatch_weight' | 'none'; made: number;
  typical_metres: number | null; upper_metres: number | null; publish_metres: number | null; balls: number | null; grams: number | null;
  message: string; stated: { value: number; unit: 'm' | 'yd'; metres: number } | null; stated_balls?: number; short: boolean;
}
export interface YarnPiece {
  who: string; kind: 'report' | 'sample'; id: string; size_id: string; told: Amount | null; metres: number; at_design_metres: number;
  outlier?: string; unused?: string;
}
export interface Yarn {
  design: DesignLine; ball: { length: Amount | null; weight?: Amount | null } | null; share: number; stitches: string; stitches_from: string;
  problem?: string; message: string; used: number; size_matters: boolean; sizes: YarnSize[]; pieces: YarnPiece[]; revision: number;
}
