// The shapes of the API's answers that the pages use, for the type check only:
// this file is not served.

export interface Length { value: number; unit: 'cm' | 'in'; cm: number }
export interface Gauge { stitches: number | null; rows: number | null; span: number; unit: 'cm' | 'in' }
export interface Who { id: string; handle: string }
export interface Person {
  id: string; handle: string; name: string; email: string; unit: 'cm' | 'in'; terms: 'us' | 'uk';
  roles: string[]; disabled?: boolean; revision: number; set_up_first?: boolean;
}
export interface Settings { name: string; zone: string; lead_days: number; demo: boolean; today: string; forget_after_months?: number; letters_by_itself: string[]; letters_keep_days: number; staff_second_step?: boolean; revision: number }

export interface Body { dimension: string; length: Length }
export interface Size { id: string; position: number; name: string; filmed: boolean; body: Body[] }
export interface Point {
  id: string; position: number; name: string; axis: 'stitch' | 'row'; expr: string; add: Length; tolerance: Length;
  repeatability_cm: number | null; repeat: number; girth: boolean; how_to_measure: string;
  body_dimension: string | null; ease_low_cm: number | null; ease_high_cm: number | null;
  intended: { size_id: string; length: Length }[];
}
export interface Version { id: string; number: number; note: string; given_out_at: string | null; revision: number }
export interface Design {
  id: string; slug: string; name: string; craft: string; audience: string; terms: string; unit: 'cm' | 'in';
  gauge: Gauge; yarn: string; tool: string; tool_mm: number | null; grouping: string; note: string;
  released_on: string | null; released_at: string | null; out_version: number | null; archived: boolean; revision: number; sizes: Size[]; points: Point[]; versions: Version[];
}

export type CountUnit = 'stitch' | 'row' | 'repeat' | 'row_number';
export interface Count { id?: string; name: string; unit: CountUnit; note: string; values: (number | null)[]; text?: string }
export interface Rule { id?: string; name: string; kind: 'holds' | 'multiple'; expr: string; of?: number | null; plus?: number | null }
export interface Finding {
  kind: 'rule' | 'multiple' | 'intended' | 'ease' | 'step' | string; name: string; size: string; message: string;
  left?: number; right?: number; difference?: number; value?: number; nearest?: (number | null)[]; expected?: number; intended?: number;
}
export interface Sheet {
  id: string; design_id: string; number: number; note: string; given_out_at: string | null; revision: number;
  sizes: { id: string; name: string }[]; counts: Count[]; rules: Rule[]; findings: Finding[];
  finished: { point: string; size: string; expected: number | null; intended: number | null; ease: number | null }[];
  sections: { after: string; name: string; rows: (number | null)[]; text: string }[];
}

export interface Mark {
  report_id?: string; sample_id?: string; handle?: string; label?: string; at_cm: number; measured_cm: number;
  kind: 'report' | 'sample'; state: 'within' | 'outside' | 'slip'; sentence: string;
}
export interface Strip {
  point_id: string; intended_cm: number | null; expected_cm: number | null; tolerance_cm: number;
  low_cm: number; high_cm: number; growth_cm: number | null; marks: Mark[];
  finding?: { key: string; verdict: 'fault' | 'suspect'; decided: boolean };
}
export interface BoardPoint { id: string; name: string; axis: string; tolerance_cm: number; outside: number }
export interface BoardSample { id: string; label: string; purpose: string; worked_through: string | null; worked?: string; worked_note?: string; held_by: Who | string | null; retired: boolean }
export interface BoardSize {
  id: string; name: string; filmed: boolean; samples: BoardSample[];
  testers: { fewest: number; wanted: number; assigned: number; accepted: number; reported: number; approved: number; quiet?: number; covered?: number };
  strips: Strip[]; made_before?: string[];
}
export interface BoardInstallment {
  id: string; position: number; title: string; air_on: string; record_by: string; days_left: number; state: string;
  late: boolean; open_slips: number; needs: string; sample: { id: string; label: string; held_by: Who | string | null } | null;
}
export interface Gate { name: string; shut: boolean; why: string; where: string; by_hand?: boolean }
export interface Track { name: string; sentence: string; done: number; of: number }
export interface Board {
  today: string;
  design: Pick<Design, 'id' | 'slug' | 'name' | 'craft' | 'audience' | 'terms' | 'unit' | 'gauge' | 'revision' | 'released_on'>;
  version: { id: string; number: number; given_out_at: string | null } | null;
  call: { id: string; title: string; due_on: string; days_left: number; version_number: number } | null;
  points: BoardPoint[]; sizes: BoardSize[]; installments: BoardInstallment[]; holds: { sample_id: string; at_it: boolean; sentence: string }[]; unlogged: { sample_id: string; sentence: string }[];
  gauge: { state: string; sentence: string }; gates: Gate[]; tracks: Track[]; remarks_open: number;
}
export interface StudioDesign {
  id: string; slug: string; name: string; craft: string; audience: string; tracks: Track[];
  next_air: { title: string; air_on: string; days_left: number; state: string } | null;
  blocks_most: { sentence: string; where: string } | null;
}
export interface Studio { today: string; designs: StudioDesign[]; today_needs: { sentence: string; where: string; due_on: string | null }[] }
export interface Event { id: string; at: string; actor?: string; entity: string; entity_id: string; action: string; before: any; after: any }
export interface Invitation { link: string; token: string; qr_svg: string; expires_at: string }

/** What a screen is given to draw itself. */
export interface View {
  /** Where it draws; empty at first. */
  page: HTMLElement;
  /** The line under the title. */
  lede: HTMLElement;
  params: Record<string, string>;
  query: URLSearchParams;
  me: Person;
  settings: Settings;
  /** Aborted when the person leaves the screen: hand it to listeners, fetches and live streams. */
  gone: AbortSignal;
  /** Sets the one h1 and the window's title. */
  title(text: string): void;
}
export interface Page {
  /** Style sheets beyond the four in index.html, by name. */
  sheets?: string[];
  draw(view: View): Promise<void> | void;
}
export interface Route {
  path: string; who: 'anyone' | 'signed-in' | 'staff' | 'designer' | 'tester';
  nav?: string; tab?: string; load: () => Promise<Page>;
}
