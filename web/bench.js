// Puts the bench together: reads the shelf and the fields once, starts every zone, opens the last job or the folder.
import { start_bar } from "./bar.js";
import { show_client } from "./client_view.js";
import { show_folder, start_folder } from "./folder.js";
import { start_happen } from "./happen.js";
import { job, on, quietly } from "./job.js";
import { watch } from "./keeping.js";
import { start_lamps } from "./lamps.js";
import { start_meeting } from "./meeting.js";
import { start_panel } from "./panel.js";
import { show_papers } from "./papers.js";
import { start_pins } from "./pins.js";
import { start_pots } from "./pots.js";
import { start_section } from "./section.js";
import { show_record } from "./record.js";
import { ask } from "./server.js";
import { start_sight } from "./sight.js";
import { start_strip } from "./strip.js";

start_bar({ jobs: show_folder, record: show_record, papers: show_papers, client: show_client });
watch();
start_sight();
start_lamps();
start_pots();
start_panel();
start_happen();
start_strip();
start_section();
start_pins(show_client);
start_meeting();
on("opened", () => document.body.classList.add("with-job"));

[job.shelf, job.fields] = await Promise.all([quietly(() => ask("/api/shelf")), quietly(() => ask("/api/fields"))]);
await start_folder();
document.body.dataset.ready = "yes";
