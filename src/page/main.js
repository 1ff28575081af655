// Entry point of the page: loads the paint library and the plan schema once, starts every zone, and opens the last job
// or the list of jobs.
import { start_autosave } from "./autosave.js";
import { start_bar } from "./bar.js";
import { show_client_view } from "./client_view.js";
import { start_conflict } from "./conflict.js";
import { show_exports } from "./exports.js";
import { show_folder, start_folder } from "./folder.js";
import { start_forecast } from "./forecast.js";
import { guard_errors, job } from "./job.js";
import { show_job_log } from "./job_log.js";
import { start_mixes } from "./mixes.js";
import { start_panel } from "./panel.js";
import { start_picture } from "./picture.js";
import { start_section } from "./section.js";
import { request_json } from "./server.js";
import { start_strip } from "./strip.js";
import { start_versions } from "./versions.js";
import { start_view_controls } from "./view_controls.js";

start_bar({ jobs: show_folder, job_log: show_job_log, exports: show_exports, client_view: show_client_view });
start_autosave();
start_picture();
start_view_controls();
start_mixes();
start_panel();
start_forecast();
start_strip();
start_section();
start_versions(show_client_view);
start_conflict();

[job.library, job.schema] = await Promise.all([
    guard_errors(() => request_json("/api/library")),
    guard_errors(() => request_json("/api/schema")),
]);
await start_folder();
document.body.dataset.ready = "yes";
