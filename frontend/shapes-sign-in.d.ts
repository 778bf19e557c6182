// What the API says of signing in.

export interface MySignIn { id: string; device: string; this: boolean; second_step: boolean; begun_at: string; used_at: string; ends_at: string }
export interface SignInNotice { at: string; action: string; by?: string }
export interface MySignIns { sign_ins: MySignIn[]; notices: SignInNotice[] }
export interface MySecondStep { since: string | null; recovery_left: number; wanted: boolean }
export interface NewSecret { secret: string; link: string; qr_svg: string }
export interface PersonSignIn { has_password: boolean; second_step: boolean; sign_ins: number; open_link: { made_at: string; expires_at: string } | null }
