namespace Vanehour.Fleet.Sqlite;

/// <summary>The schema of fleet.db: the register, and the runs and results that are derived for it.</summary>
public static class FleetSchema
{
    /// <summary>"VnhF" in ASCII.</summary>
    private const int ApplicationId = 0x566E6846;

    // Instants are Unix milliseconds. The nouns that have many optional parts are kept as one JSON document beside their keys.
    private const string Version1 = """
        CREATE TABLE pump_model(
            model TEXT PRIMARY KEY,
            body TEXT NOT NULL) WITHOUT ROWID;
        CREATE TABLE truck(
            truck TEXT PRIMARY KEY,
            yard TEXT NOT NULL,
            pump_model TEXT NOT NULL REFERENCES pump_model(model),
            body TEXT NOT NULL) WITHOUT ROWID;
        CREATE TABLE service_record(
            key TEXT PRIMARY KEY,
            truck TEXT NOT NULL REFERENCES truck(truck),
            at_ms INTEGER NOT NULL,
            kind TEXT NOT NULL,
            body TEXT NOT NULL) WITHOUT ROWID;
        CREATE INDEX service_record_truck ON service_record(truck, at_ms);
        CREATE TABLE run(
            truck TEXT NOT NULL,
            start_ms INTEGER NOT NULL,
            end_ms INTEGER NOT NULL,
            hours_h REAL NOT NULL,
            body TEXT NOT NULL,
            PRIMARY KEY(truck, start_ms)) WITHOUT ROWID;
        CREATE TABLE run_settled(
            truck TEXT PRIMARY KEY,
            settled_ms INTEGER NOT NULL) WITHOUT ROWID;
        CREATE TABLE result(
            kind TEXT NOT NULL,
            key TEXT NOT NULL,
            as_of_ms INTEGER NOT NULL,
            body TEXT NOT NULL,
            PRIMARY KEY(kind, key, as_of_ms)) WITHOUT ROWID;
        CREATE TABLE finding(
            id TEXT PRIMARY KEY,
            truck TEXT,
            kind TEXT NOT NULL,
            status TEXT NOT NULL,
            since_ms INTEGER NOT NULL,
            body TEXT NOT NULL) WITHOUT ROWID;
        CREATE TABLE lease(
            name TEXT PRIMARY KEY,
            holder TEXT NOT NULL,
            taken_ms INTEGER NOT NULL,
            expires_ms INTEGER NOT NULL) WITHOUT ROWID;
        """;

    // What the register said of a truck when its runs were derived.
    private const string Version2 = """
        CREATE TABLE run_basis(
            truck TEXT PRIMARY KEY,
            body TEXT NOT NULL) WITHOUT ROWID;
        """;

    // Who changed which service record, when and why. Rows are only ever appended.
    private const string Version3 = """
        CREATE TABLE service_change(
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            at_ms INTEGER NOT NULL,
            key TEXT NOT NULL,
            truck TEXT NOT NULL,
            by TEXT,
            action TEXT NOT NULL CHECK(action IN ('Added', 'Changed', 'Deleted')),
            why TEXT,
            before TEXT,
            after TEXT);
        CREATE INDEX service_change_truck ON service_change(truck, id);
        CREATE TRIGGER service_change_kept BEFORE UPDATE ON service_change BEGIN SELECT RAISE(ABORT, 'The history of service records is never changed.'); END;
        CREATE TRIGGER service_change_stays BEFORE DELETE ON service_change BEGIN SELECT RAISE(ABORT, 'The history of service records is never shortened.'); END;
        """;

    // Plans as they were made, and what people have said about them.
    private const string Version4 = """
        CREATE TABLE plan(
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            made_ms INTEGER NOT NULL,
            as_of_ms INTEGER NOT NULL,
            body TEXT NOT NULL);
        CREATE TABLE plan_mark(
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            body TEXT NOT NULL);
        """;

    /// <summary>The current schema of fleet.db.</summary>
    public static SqliteSchema Current { get; } = new("fleet.db", ApplicationId, [Version1, Version2, Version3, Version4]);
}
