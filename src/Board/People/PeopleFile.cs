using System.Text.Json;
using Microsoft.AspNetCore.Identity;

namespace Vanehour.Board.People;

/// <summary>
/// The people who may sign in, in a small file of the data folder that its owner alone may read. It is no part of backups: what is copied about should hold no
/// passwords, hashed or not.
/// </summary>
public sealed class PeopleFile
{
    /// <summary>The file's name in the data folder.</summary>
    public const string Name = "board-people.json";

    private static readonly PasswordHasher<string> Hasher = new();

    // Checked where nobody has the name that was given, so that the time of an answer does not tell which names there are.
    private static readonly string NobodysPassword = Hasher.HashPassword(string.Empty, "nobody has this password");

    private readonly string path;
    private readonly TimeProvider time;
    private readonly Lock gate = new();
    private (DateTime WrittenAt, long Length) read;
    private IReadOnlyList<Person> people = [];

    /// <param name="folder">The data folder.</param>
    /// <param name="time">The clock.</param>
    public PeopleFile(string folder, TimeProvider time)
    {
        path = Path.Combine(folder, Name);
        this.time = time;
    }

    /// <summary>Everybody, in order of name; another process's changes show at once.</summary>
    /// <exception cref="PeopleException">The file cannot be read.</exception>
    public IReadOnlyList<Person> All()
    {
        lock (gate)
        {
            var file = new FileInfo(path);
            if (!file.Exists)
            {
                read = default;
                return people = [];
            }

            var stamp = (file.LastWriteTimeUtc, file.Length);
            if (stamp == read)
            {
                return people;
            }

            try
            {
                people = JsonSerializer.Deserialize(File.ReadAllBytes(path), PeopleJson.Default.IReadOnlyListPerson) ?? throw new JsonException();
                read = stamp;
                return people;
            }
            catch (Exception e) when (e is JsonException or IOException or UnauthorizedAccessException)
            {
                throw new PeopleException($"The people who may sign in cannot be read from {path}; correct the file, or move it away and add them again with 'vanehour user add'.", e);
            }
        }
    }

    /// <summary>Somebody by name; letters' case does not matter. Null where nobody has it.</summary>
    public Person? Find(string name) => All().FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Adds somebody, or gives somebody another password or role.</summary>
    /// <returns>Whether the name is new.</returns>
    /// <exception cref="PeopleException">The name or password cannot be used, or the file cannot be written.</exception>
    public bool Set(string name, string password, Role role)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(password);
        name = name.Trim();
        if (name.Length is 0 or > Person.LongestName || name.Any(c => char.IsControl(c) || char.GetUnicodeCategory(c) == System.Globalization.UnicodeCategory.Format))
        {
            throw new PeopleException($"A name has 1 to {Person.LongestName} characters, none of them invisible.");
        }

        if (password.Length is < Person.ShortestPassword or > Person.LongestPassword)
        {
            throw new PeopleException($"A password has {Person.ShortestPassword} to {Person.LongestPassword} characters; several words in a row are easy to keep in mind.");
        }

        if (password.Contains(name, StringComparison.OrdinalIgnoreCase) && password.Length < 2 * name.Length + Person.ShortestPassword)
        {
            throw new PeopleException("The password must be more than the name with something added.");
        }

        lock (gate)
        {
            var before = Find(name);
            Write([.. All().Where(p => p != before), new Person(before?.Name ?? name, role, Hasher.HashPassword(name, password), time.GetUtcNow())]);
            return before is null;
        }
    }

    /// <summary>Takes somebody away; who is signed in under the name is out with the next click.</summary>
    /// <exception cref="PeopleException">Nobody has the name, or the file cannot be written.</exception>
    public void Remove(string name)
    {
        lock (gate)
        {
            var person = Find(name) ?? throw new PeopleException($"Nobody is called '{name}'; see 'vanehour user list'.");
            Write([.. All().Where(p => p != person)]);
        }
    }

    /// <summary>Who has the name and the password; null where nobody has both.</summary>
    public Person? Check(string name, string password)
    {
        var person = Find(name);
        var isRight = password.Length <= Person.LongestPassword
            && Hasher.VerifyHashedPassword(name, person?.Password ?? NobodysPassword, password) != PasswordVerificationResult.Failed;
        return isRight ? person : null;
    }

    private void Write(IReadOnlyList<Person> next)
    {
        var part = path + ".part";
        try
        {
            // One left behind would keep its rights, whatever they are.
            File.Delete(part);
            var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
            if (!OperatingSystem.IsWindows())
            {
                options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            }

            using (var stream = new FileStream(part, options))
            {
                JsonSerializer.Serialize(stream, [.. next.OrderBy(p => p.Name, StringComparer.OrdinalIgnoreCase)], PeopleJson.Default.IReadOnlyListPerson);
            }

            File.Move(part, path, overwrite: true);
            read = default;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new PeopleException($"The people who may sign in cannot be written to {path}: {e.Message}", e);
        }
    }
}
