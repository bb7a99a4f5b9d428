using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqliteDatabaseTests : IDisposable
{
    private const int ApplicationId = 0x54657374;

    private static readonly SqliteSchema First = new("test.db", ApplicationId, ["CREATE TABLE a(x INTEGER);"]);
    private static readonly SqliteSchema Second = First with { Migrations = First.Migrations.Add("ALTER TABLE a ADD COLUMN y INTEGER; UPDATE a SET y=x*2;") };
    private static readonly SqliteSchema Broken = First with { Migrations = First.Migrations.Add("DELETE FROM a; CREATE TABLE a(x);") };

    private readonly DataFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void NewFile_IsOursInWalModeAtTheCurrentVersion()
    {
        var database = SqliteDatabase.Open(Path.Combine(folder.Path, "deeper", "still"), Second);

        Assert.Equal(Path.Combine(folder.Path, "deeper", "still", "test.db"), database.Path);
        Assert.Equal((long)ApplicationId, database.Run("PRAGMA application_id"));
        Assert.Equal(2L, database.Run("PRAGMA user_version"));
        Assert.Equal("wal", database.Run("PRAGMA journal_mode"));
    }

    [Fact]
    public void Connections_SyncFullyAndHoldToForeignKeys()
    {
        using var connection = SqliteDatabase.Open(folder.Path, First, TimeSpan.FromSeconds(7)).Connect();

        Assert.Equal(2L, connection.Run("PRAGMA synchronous"));
        Assert.Equal(1L, connection.Run("PRAGMA foreign_keys"));
        Assert.Equal(7000L, connection.Run("PRAGMA busy_timeout"));
    }

    [Fact]
    public void OpenedAgain_KeepsItsContentAndMakesNoBackup()
    {
        SqliteDatabase.Open(folder.Path, First).Run("INSERT INTO a VALUES(1)");

        Assert.Equal(1L, SqliteDatabase.Open(folder.Path, First).Run("SELECT x FROM a"));
        Assert.Empty(Directory.GetFiles(folder.Path, "*.backup"));
    }

    [Fact]
    public void OlderSchema_IsMigratedAfterABackup_WhichCanBePutBack()
    {
        SqliteDatabase.Open(folder.Path, First).Run("INSERT INTO a VALUES(21)");

        Assert.Equal(42L, SqliteDatabase.Open(folder.Path, Second).Run("SELECT y FROM a"));

        var backup = folder.File("test.db.schema1.backup");
        Assert.Equal([backup], Directory.GetFiles(folder.Path, "*.backup*"));
        var restored = Directory.CreateDirectory(folder.File("restored")).FullName;
        File.Copy(backup, Path.Combine(restored, "test.db"));
        var old = SqliteDatabase.Open(restored, First);
        Assert.Equal(21L, old.Run("SELECT x FROM a"));
        Assert.Equal("wal", old.Run("PRAGMA journal_mode"));
    }

    [Fact]
    public void MigrationThatFails_LeavesTheFileAsItWas()
    {
        SqliteDatabase.Open(folder.Path, First).Run("INSERT INTO a VALUES(21)");

        Assert.Throws<DatabaseException>(() => SqliteDatabase.Open(folder.Path, Broken));

        var database = SqliteDatabase.Open(folder.Path, First);
        Assert.Equal(21L, database.Run("SELECT x FROM a"));
        Assert.Equal(1L, database.Run("PRAGMA user_version"));
    }

    [Fact]
    public void OldHalfWrittenBackup_IsReplaced()
    {
        SqliteDatabase.Open(folder.Path, First);
        File.WriteAllText(folder.File("test.db.schema1.backup.part"), "cut sh");

        SqliteDatabase.Open(folder.Path, Second);

        Assert.Equal(1L, DatabaseSteps.RunOn(folder.File("test.db.schema1.backup"), "PRAGMA user_version"));
        Assert.False(File.Exists(folder.File("test.db.schema1.backup.part")));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ManyStartingAtOnce_AllFindTheFileReady(bool isOld)
    {
        // Several times, because a race shows only now and then.
        for (var i = 0; i < 10; i++)
        {
            await StartManyAtOnceAsync(folder.File($"try {i}"), isOld);
        }
    }

    [Fact]
    public void NewerSchema_IsRefused()
    {
        SqliteDatabase.Open(folder.Path, Second);

        var e = Assert.Throws<DatabaseException>(() => SqliteDatabase.Open(folder.Path, First));

        Assert.Equal(
            $"{folder.File("test.db")} was written by a newer Vanehour (schema 2, this program knows 1); use that version or a newer one.", e.Message);
    }

    [Fact]
    public void AnotherProgramsDatabase_IsRefusedAndLeftAlone()
    {
        DatabaseSteps.RunOn(folder.File("test.db"), "CREATE TABLE theirs(x)");
        var before = File.ReadAllBytes(folder.File("test.db"));

        var e = Assert.Throws<DatabaseException>(() => SqliteDatabase.Open(folder.Path, First));

        Assert.Equal($"{folder.File("test.db")} is not a Vanehour database; move it away or choose another folder with --data.", e.Message);
        Assert.Equal(before, File.ReadAllBytes(folder.File("test.db")));
    }

    [Fact]
    public void FileThatIsNoDatabase_IsRefusedAndLeftAlone()
    {
        File.WriteAllText(folder.File("test.db"), new string('x', 5000));

        var e = Assert.Throws<DatabaseException>(() => SqliteDatabase.Open(folder.Path, First));

        Assert.Equal($"{folder.File("test.db")} is not a Vanehour database; move it away or choose another folder with --data.", e.Message);
        Assert.Equal(5000, new FileInfo(folder.File("test.db")).Length);
    }

    [Fact]
    public void FolderThatCannotBeMade_IsSaid()
    {
        File.WriteAllText(folder.File("taken"), string.Empty);

        var e = Assert.Throws<DatabaseException>(() => SqliteDatabase.Open(folder.File("taken"), First));

        Assert.Equal($"The data folder {folder.File("taken")} cannot be made or written to; choose another with --data.", e.Message);
    }

    [Fact]
    public void FileThatCannotBeOpened_IsSaid()
    {
        Directory.CreateDirectory(folder.File("test.db"));

        var e = Assert.Throws<DatabaseException>(() => SqliteDatabase.Open(folder.Path, First));

        Assert.Equal($"{folder.File("test.db")} cannot be written; check the folder's permissions or choose another with --data.", e.Message);
    }

    [Fact]
    public void LockWait_MustMakeSense()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => SqliteDatabase.Open(folder.Path, First, TimeSpan.FromSeconds(-1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => SqliteDatabase.Open(folder.Path, First, TimeSpan.FromDays(1)));
    }

    [Theory]
    [InlineData(5, "is in use by another program")]
    [InlineData(6, "is in use by another program")]
    [InlineData(8, "cannot be written")]
    [InlineData(10, "(disk error)")]
    [InlineData(10, "is full; free some space", 4874)] // SQLITE_IOERR_SHMSIZE, as seen when a worker starts on a full disk.
    [InlineData(11, "is damaged; restore it from a backup")]
    [InlineData(13, "is full; free some space")]
    public void Errors_AreExplainedInOneSentence(int code, string part, int? extended = null)
    {
        var explained = SqliteDatabase.Explain("/data/test.db", new SqliteException("raw", code, extended ?? code));

        Assert.Contains(part, explained.Message, StringComparison.Ordinal);
        Assert.EndsWith(".", explained.Message, StringComparison.Ordinal);
        Assert.IsType<SqliteException>(explained.InnerException);
    }

    private static async Task StartManyAtOnceAsync(string path, bool isOld)
    {
        if (isOld)
        {
            SqliteDatabase.Open(path, First).Run("INSERT INTO a VALUES(21)");
        }

        var opened = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(() => SqliteDatabase.Open(path, Second))));

        Assert.All(opened, d => Assert.Equal(2L, d.Run("PRAGMA user_version")));
        Assert.Equal(isOld ? 42L : null, opened[0].Run("SELECT y FROM a"));
        if (isOld)
        {
            // One copy, of the state before, even though seven others came to migrate as well.
            Assert.Single(Directory.GetFiles(path, "*.backup*"));
            Assert.Equal(1L, DatabaseSteps.RunOn(Path.Combine(path, "test.db.schema1.backup"), "PRAGMA user_version"));
        }
    }
}
