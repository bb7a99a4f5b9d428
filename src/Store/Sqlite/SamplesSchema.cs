using Vanehour.Fleet.Sqlite;

namespace Vanehour.Store.Sqlite;

/// <summary>The schema of samples.db: what the feed brought, what was refused of it, and what changed since runs were last derived.</summary>
public static class SamplesSchema
{
    /// <summary>"VnhS" in ASCII.</summary>
    private const int ApplicationId = 0x566E6853;

    // Instants are Unix milliseconds. The row of a truck carries the roll-up of its samples and its touch, because every batch that
    // changes a sample changes all of them together: samples, first_ms and last_ms count and bound its samples; touched_ms is the earliest
    // instant changed since it was last settled (null: settled); revision counts the touches and is never set back, so that a touch
    // cannot be mistaken for one settled before. Signals are columns by their names in payloads.
    // Rejects have a rowid because their payloads (to 4 KiB) are too long to sit in a key tree. reject_count.times is never lowered, kept is
    // how many rows of the reason are in reject now.
    private const string Version1 = """
        CREATE TABLE truck(
            id INTEGER PRIMARY KEY,
            truck TEXT NOT NULL UNIQUE,
            samples INTEGER NOT NULL DEFAULT 0,
            first_ms INTEGER,
            last_ms INTEGER,
            revision INTEGER NOT NULL DEFAULT 0,
            touched_ms INTEGER);
        CREATE TABLE sample(
            truck_id INTEGER NOT NULL,
            at_ms INTEGER NOT NULL,
            pto_hours REAL,
            pto REAL,
            vacuum REAL,
            pressure REAL,
            pump_temp REAL,
            ambient_temp REAL,
            pump_speed REAL,
            oil_used REAL,
            oil_level REAL,
            baro REAL,
            PRIMARY KEY(truck_id, at_ms)) WITHOUT ROWID;
        CREATE TABLE reject(
            id INTEGER PRIMARY KEY,
            key BLOB NOT NULL UNIQUE,
            topic TEXT NOT NULL,
            reason TEXT NOT NULL,
            detail TEXT NOT NULL,
            payload BLOB NOT NULL,
            arrived_ms INTEGER NOT NULL,
            last_arrived_ms INTEGER NOT NULL,
            times INTEGER NOT NULL);
        CREATE INDEX reject_last_arrived ON reject(last_arrived_ms);
        CREATE TABLE reject_count(
            reason TEXT PRIMARY KEY,
            times INTEGER NOT NULL,
            kept INTEGER NOT NULL) WITHOUT ROWID;
        """;

    // The samples of a truck before this instant were deleted (null: none were). It is never lowered: a late sample from before it
    // must not be taken for all that was heard of that time.
    private const string Version2 = "ALTER TABLE truck ADD COLUMN kept_from_ms INTEGER";

    // With an InfluxDB the samples are there, and here is what is only known here. remote_truck is to its samples what truck is to those in
    // the table sample. outbox holds what has arrived and is not forwarded yet, in the order of arrival: rows are only added at the end and
    // taken from the front, so that the last number less the first is how many there are. forwarding says what was found out about the rows
    // up to last_seq before they were sent for the first time (a byte for each point, see SampleChange): after a crash the server holds
    // them or not, and nobody could find out any more. run_copy is what the dashboards' copies of runs are behind by.
    private const string Version3 = """
        CREATE TABLE remote_truck(
            id INTEGER PRIMARY KEY,
            truck TEXT NOT NULL UNIQUE,
            samples INTEGER NOT NULL DEFAULT 0,
            first_ms INTEGER,
            last_ms INTEGER,
            revision INTEGER NOT NULL DEFAULT 0,
            touched_ms INTEGER,
            kept_from_ms INTEGER);
        CREATE TABLE outbox(
            seq INTEGER PRIMARY KEY,
            truck_id INTEGER NOT NULL,
            at_ms INTEGER NOT NULL,
            arrived_ms INTEGER NOT NULL,
            pto_hours REAL,
            pto REAL,
            vacuum REAL,
            pressure REAL,
            pump_temp REAL,
            ambient_temp REAL,
            pump_speed REAL,
            oil_used REAL,
            oil_level REAL,
            baro REAL);
        CREATE TABLE forwarding(
            one INTEGER PRIMARY KEY CHECK(one=1),
            last_seq INTEGER NOT NULL,
            changes BLOB NOT NULL);
        CREATE TABLE run_copy(
            truck TEXT PRIMARY KEY,
            from_ms INTEGER NOT NULL) WITHOUT ROWID;
        """;

    // Other workers may forward to the same server, each with a data folder of its own; they tell each other by notes there. note_pending is what was
    // forwarded from here and not noted yet, a row a truck; note_sending is a note under way, kept until the server has it so that it is sent again under
    // the same instant; note_last is the last instant a note was sent under. other_worker is how far another worker's notes were read.
    private const string Version4 = """
        CREATE TABLE note_pending(
            truck_id INTEGER PRIMARY KEY,
            added INTEGER NOT NULL,
            first_ms INTEGER NOT NULL,
            last_ms INTEGER NOT NULL,
            touched_ms INTEGER);
        CREATE TABLE note_sending(
            at_ms INTEGER PRIMARY KEY,
            trucks TEXT NOT NULL);
        CREATE TABLE note_last(
            one INTEGER PRIMARY KEY CHECK(one=1),
            at_ms INTEGER NOT NULL);
        CREATE TABLE other_worker(
            worker TEXT PRIMARY KEY,
            seen_ms INTEGER NOT NULL) WITHOUT ROWID;
        """;

    /// <summary>The current schema of samples.db.</summary>
    public static SqliteSchema Current { get; } = new("samples.db", ApplicationId, [Version1, Version2, Version3, Version4]);
}
