// The shapes of the API's answers about shots, states and plans of filming, for
// the type check only: this file is not served.
import type { Length } from './shapes.js';
import type { Installment } from './shapes-filming.js';

export interface DesignState {
  id: string; installment_id: string; name: string; words: string; end: boolean; stitches: string; hours: number | null;
}
export interface Shot {
  id: string; installment_id: string; position: number; title: string; from_state: string | null; to_state: string | null;
  attached: string; marked: string; live: string; differs: string; note: string; chapter: string | null;
  numbers: { count: string; words?: string }[]; tails: Tail[]; revision: number;
}
export interface Tail { seam: string; length: Length; low_cm: number; high_cm: number }
export interface PlanState { state_id: string | null; words: string; hours: number; known: boolean; trouble?: string; end: boolean; stitches: number | null }
export interface PlannedShot {
  shot_id?: string; installment_id: string; label: string; on?: string; overdue: boolean; from: number; to: number;
  sample_id?: string; sample: string; held_by: string; new: boolean; spare?: string; work_hours: number; start_by?: string; message?: string;
}
export interface Step { on: string; rank: number; kind: 'here' | 'made' | 'shown'; words: string; hours: number }
export interface SampleLine { sample_id?: string; label: string; held_by: string; new: boolean; steps: Step[] }
export interface InstallmentPlan {
  id: string; unrecorded: number; of: number; record_by?: string; shoot_on?: string; start_by?: string;
  making_hours: number; days_left: number | null; can: boolean;
}
export interface Unlogged { sample_id: string; label: string; state_id: string | null; state: string; shot_id: string; sentence: string }
export interface Hold { sample_id: string; label: string; state_id: string | null; at_it: boolean; until?: string; sentence: string }
export interface FilmingPlan {
  today: string; size_id: string | null; size_name: string; states: PlanState[];
  speed: { stitches_per_hour: number; logged_hours: number; source: 'stated' | 'logged' | 'studio' | 'usual' };
  hours_per_day: number; same_day_hours: number; shots: PlannedShot[]; undated: PlannedShot[]; lines: SampleLine[];
  installments: InstallmentPlan[]; new_samples: number; hours: number; warnings: string[]; holds: Hold[]; unlogged: Unlogged[]; unsaid: number;
}
export interface ShotTake {
  take_id: string; number: number; at: string | null; until: string | null; accepted: boolean; set_aside: boolean; again: boolean;
  said: { count: string; said: number }[]; flags: string[];
}
export interface SheetShot extends Shot {
  from_words: string; to_words: string; plan: PlannedShot | null; here: string;
  said: { count: string; words: string; unit: string; demo: number | null; line: string }[];
  skips: string[]; takes: ShotTake[]; recorded: ShotTake | null; flags: string[];
}
export interface ShootSheet {
  today: string; design: { slug: string; name: string }; installment: Installment; version: { number: number };
  size_id: string | null; size_name: string; sizes: string[]; shots: SheetShot[];
  notes: { take?: number; at: string | null; until: string | null; kind: string; shot: string; words: string; done: boolean; waits?: string }[];
  chapters: { shot_id: string; title: string; at: string; reckoned: boolean }[]; trouble: string[]; cards: string; unlogged: Unlogged[];
}
export interface Ahead { state_id: string | null; words: string; here: boolean; back: boolean; hours: number; warnings: string[] }
