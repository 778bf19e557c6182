// The shapes of the API's answers about testing and reports, for the type
// check only: this file is not served.
import type { Gauge, Length, Who } from './shapes.js';
import type { MoreTime, Progress } from './shapes-recruiting.js';

export interface Slot {
  size_id: string; fewest: number; wanted: number; most: number;
  applied: number; assigned: number; accepted: number; reported: number; approved: number;
}
export interface Call {
  id: string; design_id: string; version_id: string; title: string; opens_on: string; due_on: string;
  confidentiality: string; closed_at: string | null; revision: number; slots: Slot[];
  sections: string[]; answer_days: number; thanks: string;
}
export interface Application {
  id: string; person: Who & { unit: 'cm' | 'in'; terms: string }; applied_at: string; sizes: string[];
  accepted: number; finished: number; remarks: string; revision: number;
  yarn: string; elsewhere: boolean; declined_at: string | null; declined_why: string; agreed: { version: number; at: string; present: boolean } | null;
  assignment: { id: string; size_id: string; due_on: string; state: Assignment['state']; late: boolean } | null;
}
export interface Assignment {
  id: string; call_id: string; design: { id: string; slug: string; name: string }; person: Who;
  size: { id: string; name: string }; version: { id: string; number: number }; due_on: string; days_left: number;
  state: 'asked' | 'accepted' | 'reported' | 'approved' | 'withdrawn'; late: boolean;
  assigned_at: string; accepted_at: string | null; withdrawn_at: string | null; withdrawn_why: string;
  invited: { at: string; expires_at: string; used_at: string | null } | null; report_id: string | null; revision: number;
  answer_by?: string; yarn_sent_on?: string; yarn_sent_note?: string; days_late: number | null; quiet: boolean; progress: Progress | null; more_time: MoreTime | null;
}
export interface ImportRow { line: number; handle: string; sizes?: string[]; size?: string; measured?: number; problem?: string; state?: 'new' | 'same' | 'changed' }
export interface Preview { columns: string[]; mapping: Record<string, string>; rows: ImportRow[]; good: number; bad: number }
export interface Imported { created: number; changed: number; same: number; skipped: { line: number; problem: string }[] }

export interface Warning { point_id: string; kind: string; would_be: { value: number; unit: 'cm' | 'in' } | null; sentence: string }
export interface Cell {
  point_id: string; point: string; axis: string; expected_cm: number | null; expected_own_cm: number | null;
  measured: Length | null; measured_cm?: number | null;
  difference_cm: number | null; explained_cm: number | null; residual_cm: number | null; share_percent: number | null;
  at_own_gauge_cm?: number | null; within: boolean | null; residual_within?: boolean | null; verdict?: string; sentence: string; warnings?: Warning[];
}
export interface GaugeWords { stitch_percent: number | null; row_percent: number | null; sentence: string }
export interface Amount { value: number; unit: 'm' | 'yd' | 'g' | 'oz' }
export interface Report {
  id: string; assignment_id: string; number: number; sent_at: string; source: 'tester' | 'import';
  swatch: Gauge | null; yarn: Amount | null; hours: number | null; note: string; measurements: { point_id: string; length: Length }[];
  superseded_at: string | null; approved_at: string | null; revision: number;
}
export interface OpenedReport extends Report {
  assignment: { id: string; handle: string; size: string; size_id: string; version: number; design: string; design_name: string };
  comparison: Cell[]; gauge: GaugeWords;
}
export interface Comparison {
  points: { id: string; name: string; axis: string; tolerance_cm: number }[];
  rows: { report_id: string; handle: string; size_id: string; number: number; approved: boolean; gauge: GaugeWords; cells: Cell[] }[];
}
export interface Remark {
  id: string; version: number; handle?: string; assignment_id: string | null; place: string; body: string;
  answer: string; settled_at: string | null; written_at: string; revision: number;
}
export interface MyPoint { id: string; name: string; axis: 'stitch' | 'row'; girth: boolean; how_to_measure: string }
export interface MyAssignment extends Omit<Assignment, 'design'> {
  design: { id: string; slug: string; name: string; terms: string; unit: 'cm' | 'in'; gauge: Gauge; yarn: string; tool: string; tool_mm: number | null; note: string };
  counts: { name: string; unit: string; note: string; value: number }[]; points: MyPoint[]; confidentiality: string; call_title: string; sections: string[]; check_ins: Progress[];
  reads_in: string; as_written: boolean;
  changed: { version: number; given_out_at: string | null; counts: { name: string; unit: string; before: number | null; after: number | null }[] } | null;
  corrections: import('./shapes-corrections.js').PieceCorrection[];
  measure_again: { point_id: string | null; why: string; asked_at: string }[];
}
