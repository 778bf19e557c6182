// The shapes of the API's answers about samples and filming, for the type
// check only: this file is not served.
import type { Gauge, Length, Who } from './shapes.js';
import type { Amount, Cell } from './shapes-testing.js';

export interface Move {
  id: string; at: string; by: Who | null; worked_through: string | null; state_id: string | null; hours: number | null; worked_note: string;
  held_by: Who | null; held_note: string; ripped_back: boolean; note: string;
}
export interface Sample {
  id: string; design_id: string; size_id: string; version_id: string | null; label: string;
  purpose: 'swatch' | 'fit' | 'camera' | 'photography'; worked_through: string | null; state_id: string | null; worked_note: string;
  held_by: Who | null; held_note: string; before: Gauge | null; after: Gauge | null; yarn: Amount | null; retired: boolean; revision: number;
  measurements: { point_id: string; length: Length }[]; moves: Move[];
  comparison: {
    stitch_percent: number | null; row_percent: number | null; before_stitch_percent: number | null; before_row_percent: number | null;
    wash_stitch_percent: number | null; wash_row_percent: number | null; sentence: string; points: Cell[];
  };
  warnings?: string[];
  photos: import('./shapes-photos.js').Photo[];
}
export interface Slip {
  id: string; take_id: string; at_ms: number; at: string; wrong: string; should_be: string;
  remedy: 'on_screen_note' | 'cut' | 'record_again'; mended_at: string | null; revision: number;
}
export interface Take {
  id: string; installment_id: string; number: number; recorded_on: string; seconds: number | null;
  sample: { id: string; label: string } | null; version_id: string | null; note: string;
  accepted_at: string | null; set_aside_at: string | null; revision: number; slips: Slip[];
  shots: { shot_id: string; at: string | null; until: string | null; accepted: boolean }[];
}
export interface Installment {
  id: string; design_id: string; position: number; title: string; covers: string; air_on: string | null;
  record_by: string | null; record_by_set: boolean; shoot_on: string | null; shots: { id: string; title: string; recorded: boolean }[]; days_left: number | null;
  state: 'unrecorded' | 'recorded' | 'edited' | 'captioned' | 'scheduled' | 'aired'; late: boolean;
  edited_at: string | null; captioned_at: string | null; scheduled_at: string | null; aired_at: string | null;
  link: string; revision: number; takes: Take[]; open_slips: number; needs: string;
  sample: { id: string; label: string; held_by: Who | null } | null;
}
