// The shapes of the API's answers about plans, sign-up and the course of a
// call, for the type check only: this file is not served.

export interface Coverage { reports: number[]; probability: number; probability_lowered: number; message: string }
export interface PlanSize {
  size_id: string; name: string; fewest: number; wanted: number; most: number; present: number; proposed: number;
  now: Coverage; then: Coverage; recruit: number; reserve: string[];
}
export interface TesterRecord {
  taken: number; in_time: number; late: number; dropped: number; running: number; median_days_late: number | null; completeness: number | null;
  told_taken: number; told_finished: number; counted_taken: number; counted_in_time: number; sentence: string;
}
export interface PlanPerson {
  person_id: string; handle: string; sizes: string[]; record: TesterRecord; probability: number;
  state: 'working' | 'quiet' | 'reported' | 'withdrawn'; assignment_id?: string; revision?: number; accepted: boolean;
  present?: string; proposed?: string; place: number; change: 'keep' | 'ask' | 'move' | 'release' | 'none'; reason: string; out?: string;
}
export interface Plan {
  probability: number; objective: { short: number; below_wanted: number; preference: number; expected: number };
  sizes: PlanSize[]; people: PlanPerson[]; shortfalls: string[]; warnings: string[];
}
export interface SignUpPage { link: string; qr_svg: string; open: boolean; closes_on?: string; introduction: string; revoked_at: string | null; revision: number }
export interface Body { dimension: string; length: { value: number; unit: 'cm' | 'in'; cm: number } }
export interface SignUpForm {
  studio: string; design: string; craft: string; terms: 'us' | 'uk'; unit: 'cm' | 'in'; yarn: string; title: string; opens_on: string; due_on: string; closes_on?: string;
  introduction: string; confidentiality: string; confidentiality_hash: string; sizes: { id: string; name: string; body: Body[] }[]; dimensions: string[];
}
export interface SizeAdvice { size: string; fits: boolean; why: string; eases: { point: string; ease_cm: number; outside_cm: number }[] }
export interface OwnBody { application_id: string; design: string; body: Body[]; advice: SizeAdvice | null }
export interface Progress { done: number; of: number; section: string; note: string; at: string }
export interface MoreTime { wanted_on: string; why: string; asked_at: string }
export interface Reminder {
  kind: 'asked' | 'declined' | 'answer' | 'yarn' | 'check-in' | 'more time' | 'due soon' | 'overdue' | 'measure again' | 'thanks' | 'correction'; person_id: string; handle: string; name: string; email: string | null;
  size?: string; due_on: string; about: string; subject: string; text: string; by_hand_only?: string; doubtful?: boolean; not_sent?: string;
}
export interface CallSummary {
  sentence: string; applied: number; asked: number; accepted: number; withdrawn: number; reported: number; in_time: number; approved: number;
  median_days_late: number | null; short: string[];
  sizes: { name: string; fewest: number; asked: number; withdrawn: number; reported: number; in_time: number; approved: number; awaited: number }[];
}
