-- A data file of version 3 with test cuts, written by the app as it was before corners had keys, as SQL.
BEGIN TRANSACTION;
CREATE TABLE device (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL,
            token_hash TEXT NOT NULL UNIQUE,
            paired_at TEXT NOT NULL,
            seen_at TEXT NOT NULL
        );
CREATE TABLE job (
            id INTEGER PRIMARY KEY,
            title TEXT NOT NULL,
            head INTEGER NOT NULL,
            deleted_at TEXT
        );
INSERT INTO "job" VALUES(1,'two stocks',1,NULL);
INSERT INTO "job" VALUES(2,'stocks alike',1,NULL);
INSERT INTO "job" VALUES(3,'changed later',3,NULL);
INSERT INTO "job" VALUES(4,'gone',1,'2026-11-29T06:12:15.299+00:00');
CREATE TABLE progress_version (
            job_id INTEGER PRIMARY KEY REFERENCES job (id) ON DELETE CASCADE,
            version INTEGER NOT NULL
        );
CREATE TABLE revision (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            number INTEGER NOT NULL,
            parent INTEGER,
            text TEXT NOT NULL,
            note TEXT NOT NULL,
            saved_at TEXT NOT NULL, note_values TEXT,
            PRIMARY KEY (job_id, number)
        ) WITHOUT ROWID
        ;
INSERT INTO "revision" VALUES(1,1,NULL,'format: 1
job: two stocks
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
machine: {router_table: {repeatability: 0.03}}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.9], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: beech15}}
','imported','2026-11-29T06:12:12.006+00:00',NULL);
INSERT INTO "revision" VALUES(2,1,NULL,'format: 1
job: stocks alike
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
machine: {router_table: {repeatability: 0.03}}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: beech15}}
','imported','2026-11-29T06:12:14.595+00:00',NULL);
INSERT INTO "revision" VALUES(3,1,NULL,'format: 1
job: changed later
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
machine: {router_table: {repeatability: 0.03}}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.9], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: beech15}}
','imported','2026-11-29T06:12:14.849+00:00',NULL);
INSERT INTO "revision" VALUES(3,2,1,'format: 1
job: changed later
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
machine: {router_table: {repeatability: 0.03}}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.9], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 8, outer: {width: 320, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 8, outer: {width: 320, depth: 260, height: 80}, box: {all: beech15}}
','boxes[0].lip','2026-11-29T06:12:15.052+00:00',NULL);
INSERT INTO "revision" VALUES(3,3,2,'format: 1
job: changed later
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
machine: {router_table: {repeatability: 0.03}}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.9], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 8, outer: {width: none of it, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 8, outer: {width: none of it, depth: 260, height: 80}, box: {all: beech15}}
','boxes[0].outer.width','2026-11-29T06:12:15.068+00:00',NULL);
INSERT INTO "revision" VALUES(4,1,NULL,'format: 1
job: gone
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
machine: {router_table: {repeatability: 0.03}}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.9], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: beech15}}
','imported','2026-11-29T06:12:15.070+00:00',NULL);
CREATE TABLE shelf (
            id INTEGER PRIMARY KEY,
            kind TEXT NOT NULL,
            name TEXT NOT NULL,
            text TEXT NOT NULL,
            version INTEGER NOT NULL DEFAULT 1,
            parent_id INTEGER REFERENCES shelf (id) ON DELETE CASCADE,
            saved_at TEXT NOT NULL,
            deleted_at TEXT
        );
INSERT INTO "shelf" VALUES(1,'trial-cut','lock cutter, front corner, lip 6.0 mm','job: 1
cutter: lock cutter
corner: front corner, lip 6.0 mm
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.6
upright: 14.6
readings:
  roof: 3.9
',1,NULL,'2026-11-29T06:12:13.953+00:00',NULL);
INSERT INTO "shelf" VALUES(2,'trial-cut','lock cutter, front corner, lip 6.0 mm','job: 1
cutter: lock cutter
corner: front corner, lip 6.0 mm
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.9
upright: 14.9
readings:
  roof: 4.2
',1,NULL,'2026-11-29T06:12:14.238+00:00',NULL);
INSERT INTO "shelf" VALUES(3,'trial-cut','lock cutter, back corner, flush','job: 1
cutter: lock cutter
corner: back corner, flush
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.58
upright: 14.6
seen: play
',1,NULL,'2026-11-29T06:12:14.382+00:00','2026-11-29T06:12:14.587+00:00');
INSERT INTO "shelf" VALUES(4,'trial-cut','lock cutter, back corner, flush','job: 1
cutter: lock cutter
corner: back corner, flush
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.92
upright: 14.9
readings:
  roof: 4.1
',1,NULL,'2026-11-29T06:12:14.561+00:00',NULL);
INSERT INTO "shelf" VALUES(5,'trial-cut','lock cutter, front corner, lip 6.0 mm','job: 2
cutter: lock cutter
corner: front corner, lip 6.0 mm
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.6
upright: 14.6
readings:
  roof: 3.8
',1,NULL,'2026-11-29T06:12:14.837+00:00',NULL);
INSERT INTO "shelf" VALUES(6,'trial-cut','lock cutter, front corner, lip 6.0 mm','job: 3
cutter: lock cutter
corner: front corner, lip 6.0 mm
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.6
upright: 14.6
readings:
  roof: 3.85
',1,NULL,'2026-11-29T06:12:15.031+00:00',NULL);
INSERT INTO "shelf" VALUES(7,'trial-cut','lock cutter, back corner, flush','job: 4
cutter: lock cutter
corner: back corner, flush
height_shown: 10.8
fence_flat_shown: 12.15
fence_upright_shown: 12.15
flat: 14.9
upright: 14.9
seen: proud
',1,NULL,'2026-11-29T06:12:15.278+00:00',NULL);
INSERT INTO "shelf" VALUES(8,'trial-cut','by hand','job: 99
corner: front corner, lip 6.0 mm
height_shown: 10.8
',1,NULL,'2026-11-29T06:12:15.302+00:00',NULL);
INSERT INTO "shelf" VALUES(9,'trial-cut','torn','job: [1
corner',1,NULL,'2026-11-29T06:12:15.310+00:00',NULL);
INSERT INTO "shelf" VALUES(10,'cutter','lock cutter','entry: {mid_depth: 5.4}',1,NULL,'2026-11-29T06:12:15.318+00:00',NULL);
CREATE TABLE step_note (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            step TEXT NOT NULL,
            text TEXT NOT NULL,
            PRIMARY KEY (job_id, step)
        ) WITHOUT ROWID
        ;
CREATE TABLE ticked_step (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            step TEXT NOT NULL,
            ticked_at TEXT NOT NULL,
            PRIMARY KEY (job_id, step)
        ) WITHOUT ROWID
        ;
CREATE INDEX revision_parent ON revision (job_id, parent);
COMMIT;
PRAGMA user_version = 3;
