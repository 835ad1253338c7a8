// The one file that knows the shell: a verb and its request go in, a reply comes back, or the promise rejects with a Problem.
import { invoke } from "@tauri-apps/api/core";

export function askShell(verb: string, request: unknown): Promise<unknown> {
  return invoke("ask", { verb, request });
}
