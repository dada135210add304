-- A journal as version 2 wrote it. Never edited: it shows that old journals open for ever.
BEGIN TRANSACTION;
CREATE TABLE events (
    seq INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    at TEXT NOT NULL,
    coach TEXT NOT NULL,
    session TEXT NOT NULL,
    actor TEXT NOT NULL,
    kind TEXT NOT NULL,
    payload TEXT NOT NULL CHECK (json_valid(payload)),
    format INTEGER NOT NULL,
    digest TEXT NOT NULL
) STRICT;
INSERT INTO "events" VALUES(1,'019bc399df80000066d482645a82e176','2026-01-15T21:40:00+00:00','northern-loon','a1b2c3','driver','said','{"text":"how do I dump the waste tank"}',1,'03ed1249ace24c08b4adbc1775279d773ee57ffbe1813ac376c7c7e340fb7fe7');
INSERT INTO "events" VALUES(2,'019bc399df800001ebdfb632a7bc83f5','2026-01-15T21:40:00+00:00','northern-loon','a1b2c3','driver','asked','{"confidence":0.93,"said":"how do I dump the waste tank","topics":["dump-waste-tank"],"verdict":"answer"}',1,'25defed4856e0949708ddcc38f7a2ece91496d8a17adc8153636919e8c295111');
INSERT INTO "events" VALUES(3,'019bc399df800002507a37b76e203069','2026-01-15T21:40:00+00:00','northern-loon','a1b2c3','driver','answered','{"kind":"procedure","topic":"dump-waste-tank"}',1,'c2407b7711d4fe2c62376eb5f8149af10ebb7cb3188ba71efd700ac3db19735f');
INSERT INTO "events" VALUES(4,'019bc39bb44000008942ecc6a43642d1','2026-01-15T21:42:00+00:00','northern-loon','a1b2c3','driver','said','{"text":"waste at 40 percent"}',1,'c48d48005b2ba60e6c30ca7d01b571abc94a2b91eb6710120691ae3588355fc4');
INSERT INTO "events" VALUES(5,'019bc39bb4400001906f8be1cc253472','2026-01-15T21:42:00+00:00','northern-loon','a1b2c3','driver','reading','{"approx":false,"flag":null,"from":null,"unit":"percent","value":40,"what":"waste","which":null}',1,'f7c5eb779887faaebd08aee72fdcbfaf1af84cfc98f23d2e7ea4e61f86621c4d');
INSERT INTO "events" VALUES(6,'019bc39bb4400002daa5ed4eecd9961f','2026-01-15T21:42:00+00:00','northern-loon','a1b2c3','driver','answered','{"kind":"reading","topic":null}',1,'d848830ee1561fd08d3ce1a4260d6942d6a385d573019ea5b029ef49a4c97387');
CREATE INDEX events_by_session ON events (session, seq);
CREATE INDEX events_by_kind ON events (kind, seq);
CREATE TRIGGER events_stay BEFORE UPDATE ON events
WHEN NOT (
    OLD.kind NOT IN ('tombstone', 'erased') AND NEW.kind = 'erased' AND NEW.actor = '' AND NEW.payload = '{}'
    AND NEW.id = substr(OLD.id, 1, 16) || '0000000000000000'
    AND NEW.seq = OLD.seq AND NEW.at = OLD.at AND NEW.coach = OLD.coach AND NEW.session = OLD.session
    AND NEW.format = OLD.format AND NEW.digest = OLD.digest
    AND EXISTS (
        SELECT 1 FROM events AS stone WHERE stone.kind = 'tombstone' AND stone.seq > OLD.seq
        AND json_extract(stone.payload, '$.session') = OLD.session
    )
)
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: add a correction instead'); END;
CREATE TRIGGER events_remain BEFORE DELETE ON events
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: add a correction instead'); END;
CREATE TRIGGER events_once BEFORE INSERT ON events
WHEN EXISTS (SELECT 1 FROM events WHERE seq = NEW.seq OR id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: add a correction instead'); END;
COMMIT;
PRAGMA application_id = 1128350273;
PRAGMA user_version = 2;
